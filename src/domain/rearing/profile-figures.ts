import { type Problem, refuse } from '#units/problem.ts';
import type { Figure } from './figure.ts';
import type { BiologyProfile } from './profile.ts';

/** How a figure is counted: whole days, a share 0-1, µl, cells, or a plain number. */
export type FigureUnit = 'days' | 'share' | 'microlitres' | 'cells' | 'number';

/** One figure a breeder may set for their own profile: what it is called, how it is counted, and between which bounds it can be meant. */
export type FigureKind = { key: string; unit: FigureUnit; least: number; most: number };

const days = (key: string, least: number, most: number): FigureKind => ({ key, unit: 'days', least, most });
const share = (key: string): FigureKind => ({ key, unit: 'share', least: 0.01, most: 1 });

/**
 * Every figure of a profile that a breeder may set, in the order of a season. Beyond the bounds a number is a slip of the pen: no queen emerges 9 days after the graft.
 * Bounds are wider than any published range (stage tables and Winston 1987 for the development times).
 */
export const figureKinds: readonly FigureKind[] = [
  days('timings.combLead', 0, 21),
  days('timings.droneEggToSealed', 8, 12),
  days('timings.droneEggToEmergence', 22, 27),
  days('timings.starterLead', 0, 14),
  days('timings.graftToSealed', 3, 6),
  days('timings.graftToRipe', 8, 12),
  days('timings.graftToEmergence', 10, 15),
  days('timings.workerEggToSealed', 8, 11),
  days('timings.workerEggToEmergence', 18, 25),
  share('survivals.accepted'),
  share('survivals.emergedQueens'),
  share('survivals.readyQueens'),
  share('survivals.layingQueens'),
  share('survivals.cellsLaid'),
  share('survivals.emergedDrones'),
  share('survivals.dronesAtFourteen'),
  share('survivals.caughtDrones'),
  share('survivals.yielding'),
  { key: 'yields.perDrone', unit: 'microlitres', least: 0.1, most: 3 },
  { key: 'yields.perDroneVariation', unit: 'number', least: 0, most: 2 },
  { key: 'yields.dose', unit: 'microlitres', least: 0.5, most: 20 },
  { key: 'yields.leftBehind', unit: 'share', least: 0, most: 0.9 },
  { key: 'yields.cellsPerComb', unit: 'cells', least: 100, most: 10_000 },
  days('queens.hard.from', 1, 30),
  days('queens.hard.to', 1, 60),
  days('queens.preferred.from', 1, 30),
  days('queens.preferred.to', 1, 60),
  days('drones.hard.from', 1, 60),
  days('drones.hard.to', 1, 90),
  days('drones.preferred.from', 1, 60),
  days('drones.preferred.to', 1, 90),
  days('usual.queenAge', 1, 60),
  days('usual.droneAge.from', 1, 60),
  days('usual.droneAge.to', 1, 90),
  days('usual.holdDays', 0, 30),
];

const byKey = new Map(figureKinds.map((kind) => [kind.key, kind]));

/** What kind of figure a key names; `null` when there is none. */
export const figureKind = (key: string): FigureKind | null => byKey.get(key) ?? null;

type Tree = { readonly [name: string]: unknown };

const isFigure = (found: unknown): found is Figure => typeof found === 'object' && found !== null && 'basis' in found;

function found(profile: BiologyProfile, key: string): unknown {
  return key.split('.').reduce<unknown>((at, name) => (at as Tree)[name], profile);
}

/** The figure of a profile by its key; windows and usual ages have no range and take the source of their window. */
export function figureOf(profile: BiologyProfile, key: string): Figure {
  const at = found(profile, key);
  if (isFigure(at)) return at;
  const [group] = key.split('.');
  const source = group === 'queens' ? profile.queens.source : group === 'drones' ? profile.drones.source : '';
  const value = Number(at);
  return { value, low: value, high: value, basis: source === 'common practice' ? source : 'published', source };
}

/** A figure as a breeder sets it. `learned`: from their records, else by their own word. */
export type OwnFigure = Pick<Figure, 'value' | 'low' | 'high' | 'source'> & { key: string };

function put(at: Tree, [name = '', ...rest]: readonly string[], figure: Figure): Tree {
  const old = at[name];
  if (rest.length > 0) return { ...at, [name]: put(old as Tree, rest, figure) };
  return { ...at, [name]: isFigure(old) ? figure : figure.value };
}

/** A profile with figures of one's own in the place of its own; all others stay with their sources. */
export function withFigures(base: BiologyProfile, name: string, figures: readonly OwnFigure[]): BiologyProfile {
  const changed = figures.reduce<Tree>(
    (profile, { key, value, low, high, source }) =>
      put(profile, key.split('.'), { value, low, high, source, basis: 'own records' }),
    base as unknown as Tree,
  );
  return { ...(changed as unknown as BiologyProfile), name };
}

export type FigureRefusal =
  | 'unknown-figure'
  | 'figure-out-of-bounds'
  | 'figure-range-backwards'
  | 'figure-not-whole'
  | 'window-backwards'
  | 'usual-outside-window';

/** What is wrong with one figure: unknown, not between its bounds, its range not around it, days that are not whole. */
export function figureRefusals(figure: OwnFigure, path: string): Problem<FigureRefusal>[] {
  const { key, value, low, high } = figure;
  const kind = figureKind(key);
  if (kind === null) return [refuse(`${path}.figure`, 'unknown-figure', { figure: key })];
  const { least, most, unit } = kind;
  const outside = [value, low, high].find((each) => !(each >= least && each <= most));
  if (outside !== undefined)
    return [refuse(`${path}.value`, 'figure-out-of-bounds', { figure: key, found: outside, least, most })];
  if (unit === 'days' && !Number.isInteger(value))
    return [refuse(`${path}.value`, 'figure-not-whole', { figure: key })];
  if (low > value || value > high)
    return [refuse(`${path}.low`, 'figure-range-backwards', { figure: key, low, value, high })];
  return [];
}

/** What does not fit together in a whole profile: windows that end before they begin, usual ages outside of what can be used. */
export function profileRefusals({ queens, drones, usual }: BiologyProfile): Problem<FigureRefusal>[] {
  const sides = [
    { side: 'queens', ages: queens, from: usual.queenAge, to: usual.queenAge },
    { side: 'drones', ages: drones, from: usual.droneAge.from, to: usual.droneAge.to },
  ];
  return sides.flatMap(({ side, ages, from, to }): Problem<FigureRefusal>[] => {
    const { hard, preferred } = ages;
    const inOrder =
      hard.from <= preferred.from && preferred.from <= preferred.to && preferred.to <= hard.to && from <= to;
    if (!inOrder) return [refuse('figures', 'window-backwards', { side })];
    const inside = from >= hard.from && to <= hard.to;
    return inside ? [] : [refuse('figures', 'usual-outside-window', { side, from: hard.from, to: hard.to })];
  });
}
