/**
 * Descent that cannot be: loops, daughters older than their mothers or than any forebear, semen of drones whose mother was not yet born,
 * a group of unrecorded sisters named as a mother.
 */
import { type Problem, refuse } from '#units/problem.ts';
import { dayText } from './day-number.ts';
import { youngestForebears } from './forebears.ts';
import { levelsOf, type RawNodes } from './node-order.ts';
import { FROM_QUEEN, NO_DAY, NONE, type Stock } from './stock.ts';

/** What about descent cannot be. */
export type DescentProblemCode =
  | 'pedigree-loop'
  | 'pedigree-born-before-dam'
  | 'pedigree-born-before-drone-mother'
  | 'pedigree-born-before-forebear'
  | 'pedigree-dam-is-group';

/** One thing of the descent that cannot be, with its place and the names of those concerned. */
export type DescentProblem = Problem<DescentProblemCode>;

/**
 * Everything about the descent of a stock that cannot be. Paths are `queens.3.dam`, `queens.3.born`, `pools.0.sources`; values carry
 * the names of those concerned, and for a loop the whole loop as text.
 *
 * A loop is a queen whose dam, or a drone mother of the semen her dam was inseminated with, is herself or one of her
 * descendants. A queen inseminated with drones of her own is none. Days are compared where they are known, also past queens and batches without
 * a day, and not through a pool of alternatives. At most 1000 problems are answered. `level` is that of {@link levelsOf}, by raw number. One pass over queens and sources.
 * @example const { stock } = gatherStock({ queens: [{ id: 'A', dam: 'B' }, { id: 'B', dam: 'A' }], pools: [] });
 * checkDescent(stock, rawNodes(stock.columns)).problems[0] // { path: 'queens.0.dam', code: 'pedigree-loop', values: { loop: 'A from B from A' } }
 */
export function checkDescent(stock: Stock, nodes: RawNodes): { level: Int32Array; problems: DescentProblem[] } {
  const { level, loops } = levelsOf(nodes);
  const problems = loops.slice(0, MOST).map((loop) => loopProblem(stock, loop));
  const { columns } = stock;
  const forebears = loops.length === 0 ? youngestForebears(columns, nodes, level) : null;
  for (let i = 0; i < columns.queens && problems.length < MOST; i++) {
    const dam = columns.dam[i] as number;
    if (dam !== NONE && (columns.sisters[dam] as number) > 1) {
      const values = { queen: stock.names.queenName(i), found: stock.names.queenName(dam) };
      problems.push(refuse(`queens.${i}.dam`, 'pedigree-dam-is-group', values));
    }
    const late = bornTooEarly(stock, i) ?? bornBeforeForebear(stock, i, forebears);
    if (late) problems.push(late);
  }
  return { level, problems: problems.slice(0, MOST) };
}

const MOST = 1000;

function loopProblem(stock: Stock, loop: readonly number[]): DescentProblem {
  const { queens, pools } = stock.columns;
  const named = loop.filter((raw) => raw < queens + pools);
  const first = named.reduce((best, raw, k) => (raw < (named[best] as number) ? k : best), 0);
  const turned = [...named.slice(first), ...named.slice(0, first + 1)];
  const names = turned.map((raw) => (raw < queens ? stock.names.queenName(raw) : stock.names.poolName(raw - queens)));
  const start = turned[0] as number;
  const path = start < queens ? `queens.${start}.dam` : `pools.${start - queens}.sources`;
  return refuse(path, 'pedigree-loop', { found: names[0] ?? '', loop: names.join(' from ') });
}

/** A daughter who emerged before her dam, or before a drone mother of the pool she descends from. */
function bornTooEarly(stock: Stock, queen: number): DescentProblem | null {
  const { columns } = stock;
  const born = columns.born[queen] as number;
  if (born === NO_DAY) return null;
  const dam = columns.dam[queen] as number;
  if (dam !== NONE && born < (columns.born[dam] as number))
    return tooEarly(stock, 'pedigree-born-before-dam', queen, dam);
  const own = columns.fromPool[queen] as number;
  const pool = own === NONE && dam !== NONE ? (columns.carries[dam] as number) : own;
  if (pool === NONE || columns.oneOf[pool] === 1) return null;
  const to = columns.sourceStart[pool + 1] as number;
  for (let s = columns.sourceStart[pool] as number; s < to; s++) {
    const mother = columns.sourceRef[s] as number;
    if (columns.sourceKind[s] === FROM_QUEEN && born < (columns.born[mother] as number)) {
      return tooEarly(stock, 'pedigree-born-before-drone-mother', queen, mother);
    }
  }
  return null;
}

/** A queen who emerged before a forebear further up, past queens or batches whose day is not known. */
function bornBeforeForebear(stock: Stock, queen: number, forebears: Int32Array | null): DescentProblem | null {
  const forebear = forebears?.[queen] ?? NONE;
  const born = stock.columns.born[queen] as number;
  if (forebear === NONE || born === NO_DAY || born >= (stock.columns.born[forebear] as number)) return null;
  return tooEarly(stock, 'pedigree-born-before-forebear', queen, forebear);
}

function tooEarly({ names, columns }: Stock, code: DescentProblemCode, queen: number, older: number): DescentProblem {
  return refuse(`queens.${queen}.born`, code, {
    queen: names.queenName(queen),
    found: dayText(columns.born[queen] as number),
    older: names.queenName(older),
    olderBorn: dayText(columns.born[older] as number),
  });
}
