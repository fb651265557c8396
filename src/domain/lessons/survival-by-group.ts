import { kaplanMeier } from '#numeric/chance/kaplan-meier.ts';
import { type GroupedCase, logRank } from '#numeric/chance/log-rank.ts';
import { type CoxFit, coxRegression, coxTable } from '#numeric/regression/cox.ts';
import { proportionality } from '#numeric/regression/proportionality.ts';
import { type Day, daysBetween } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import { luckOfCoefficient, type Ranged, ranged } from './coefficient.ts';
import type { CurveDay } from './curve.ts';
import { FEW_QUEENS } from './funnel.ts';
import { type Luck, luckOf } from './luck.ts';

/** What is known of how long one queen lasted; days are null where they are not known. */
export type QueenLife = {
  queen: string;
  /** Line, year, or how she mated; null where it is not known. */
  group: string | null;
  emerged: Day | null;
  /** First seen laying here, or the day she came as a laying queen: a loss before it would not have been noticed. */
  watchedFrom: Day | null;
  /** Lost on, or last seen on. */
  watchedTo: Day | null;
  isLost: boolean;
};

/** Why a queen is not counted: a closed list, the first that holds. */
export type NotCounted = 'no-group' | 'no-emergence' | 'never-seen-laying' | 'not-seen-since';

export type GroupSurvival = {
  group: string;
  queens: number;
  lost: number;
  /** Fewer than five queens: counted, not compared. */
  few: boolean;
  /** Share alive by age in days, from the first age at which she could be watched. */
  curve: CurveDay[];
};

/** How many times as often queens of a group are lost as those of `against`, at the same age. */
export type LossRatio = { group: string; against: string; ratio: Ranged; luck: Luck };

/** Why there is no ratio: fewer than five losses in all, a group without a loss, or not two groups of five queens that met at one age. */
export type NoRatio = 'few-losses' | 'no-loss-in-group' | 'one-group';

export type SurvivalByGroup = {
  groups: GroupSurvival[];
  /** Log-rank test over the groups of five queens or more; null when it says nothing. */
  test: { p: number; luck: Luck } | null;
  ratios: LossRatio[];
  noRatio: NoRatio | null;
  /** The ratio changes with age (its check gives p < 0.05): one number does not tell it. */
  changesWithAge: boolean;
  leftOut: { why: NotCounted; queens: number }[];
};

type Life = { group: string; from: number; time: number; happened: boolean };

function lifeOf(one: QueenLife): Life | NotCounted {
  const { group, emerged, watchedFrom, watchedTo, isLost } = one;
  if (group === null) return 'no-group';
  if (emerged === null) return 'no-emergence';
  if (watchedFrom === null) return 'never-seen-laying';
  if (watchedTo === null || watchedTo <= watchedFrom) return 'not-seen-since';
  return {
    group,
    from: Math.max(0, daysBetween(emerged, watchedFrom)),
    time: daysBetween(emerged, watchedTo),
    happened: isLost,
  };
}

const REASONS: readonly NotCounted[] = ['no-group', 'no-emergence', 'never-seen-laying', 'not-seen-since'];

function groupOf(group: string, lives: readonly Life[]): GroupSurvival {
  const curve = kaplanMeier(lives).map(({ time, share, atRisk, low, high }) => ({
    day: time,
    alive: share,
    atRisk,
    low,
    high,
  }));
  const lost = lives.filter(({ happened }) => happened).length;
  return { group, queens: lives.length, lost, few: lives.length < FEW_QUEENS, curve };
}

const LEAST_LOSSES = 5;

type Compared = { names: string[]; cases: GroupedCase[] };

/** Ratios of every group against the first, from one Cox regression. */
function ratiosOf({ names, cases }: Compared): Pick<SurvivalByGroup, 'ratios' | 'noRatio' | 'changesWithAge'> {
  const none = { ratios: [], changesWithAge: false };
  const others = names.slice(1);
  const table = {
    from: Float64Array.from(cases, ({ from }) => from ?? 0),
    time: Float64Array.from(cases, ({ time }) => time),
    happened: Uint8Array.from(cases, ({ happened }) => Number(happened)),
  };
  const values = Float64Array.from(cases.flatMap(({ group }) => others.map((_, k) => Number(group === k + 1))));
  const features = { values, columns: others.length };
  const fit = coxRegression(table, features);
  if ('refused' in fit) return { ...none, noRatio: fit.refused === 'parted' ? 'no-loss-in-group' : 'one-group' };
  const check = proportionality(coxTable(table, features), fit).all;
  return {
    ratios: others.map((group, k) => ratioOf(fit, k, { group, against: names[0] ?? '', compared: others.length })),
    noRatio: null,
    changesWithAge: check !== null && check.p < 0.05,
  };
}

function ratioOf(
  { coefficients, standardErrors }: CoxFit,
  k: number,
  { compared, ...named }: { group: string; against: string; compared: number },
): LossRatio {
  const [b, error] = [coefficients[k] as number, standardErrors[k] as number];
  return { ...named, ratio: ranged(b, error, Math.exp), luck: luckOfCoefficient(b, error, compared) };
}

/** Groups large enough, the one the others are held against first: the one asked for, else the largest. */
function namesOf(groups: readonly GroupSurvival[], against: string | undefined): string[] {
  const large = groups.filter(({ few }) => !few).sort((a, b) => b.queens - a.queens || (a.group < b.group ? -1 : 1));
  const names = large.map(({ group }) => group);
  return against !== undefined && names.includes(against) ? [against, ...names.filter((n) => n !== against)] : names;
}

function compare(groups: readonly GroupSurvival[], lives: readonly Life[], against: string | undefined) {
  const nothing = { test: null, ratios: [], changesWithAge: false };
  const names = namesOf(groups, against);
  const cases = lives
    .filter(({ group }) => names.includes(group))
    .map(({ group, ...rest }) => ({ ...rest, group: names.indexOf(group) }));
  if (names.length < 2) return { ...nothing, noRatio: 'one-group' as const };
  if (cases.filter(({ happened }) => happened).length < LEAST_LOSSES) {
    return { ...nothing, noRatio: 'few-losses' as const };
  }
  const { p, freedom } = logRank(cases, names.length);
  if (freedom === 0) return { ...nothing, noRatio: 'one-group' as const };
  return { test: { p, luck: luckOf(p, 1) }, ...ratiosOf({ names, cases }) };
}

/**
 * How long queens last, group by group, at the same age: share alive by days since emergence (Kaplan-Meier), the log-rank test, and how many times as
 * often one group loses queens (hazard ratio of Cox's regression, Efron ties, 95 % interval). A queen counts only from the day she was first seen laying
 * here, or came as a laying queen (left truncation): nobody would know of a bought queen that died before. Sold, given and sampled queens are no losses.
 * Groups of fewer than five queens are counted and not compared; no test with fewer than five losses.
 * @param asked `against`: the group others are held against; left out, the largest
 * @example survivalByGroup(lives, { against: 'natural' }).ratios[0]?.ratio // { value: 1.6, low: 0.7, high: 3.8 }
 */
export function survivalByGroup(queens: readonly QueenLife[], asked: { against?: string } = {}): SurvivalByGroup {
  const read = queens.map(lifeOf);
  const lives = read.filter((one): one is Life => typeof one !== 'string');
  const groups = [...groupBy(lives, ({ group }) => group)]
    .map(([group, members]) => groupOf(group, members))
    .sort((a, b) => (a.group < b.group ? -1 : 1));
  const leftOut = REASONS.map((why) => ({ why, queens: read.filter((one) => one === why).length }));
  return { groups, ...compare(groups, lives, asked.against), leftOut: leftOut.filter((one) => one.queens > 0) };
}
