/**
 * Which kept nodes each record takes part of: its queen's side and her pool's, shared by all records that have the same. A record of queen Q with
 * pool S is `½u_d(Q) + g_d(S) + u_m(Q)` (d worker effect, m queen effect; Brascamp and Bijma 2014, Genet Sel Evol 46:53, with gamete pools for
 * sires); a *feature* is one of its two sides as a list of kept nodes, each with its load on the worker effect (`first`) and on the queen effect (`second`).
 */
import {
  filledInts,
  filledNumbers,
  type Growing,
  growingInts,
  growingNumbers,
  pushInt,
  pushNumber,
} from '#numeric/csv/growing.ts';
import type { Features } from '#numeric/mixed/system.ts';
import type { Recursion } from '#numeric/recursion/recursion.ts';
import type { Descent } from './descent.ts';

/**
 * Features while they are gathered; equal ones are shared by what stands in the memory of each kind. `start` has one more than there are features;
 * `node`, `first` and `second` one number a term (loads without unit, ¼ … 1). `kept`: kept node of each row of the positive recursion, −1 where absorbed.
 */
export type Gathering = {
  readonly descent: Descent;
  readonly kept: Int32Array;
  readonly start: Growing<Int32Array>;
  readonly node: Growing<Int32Array>;
  readonly first: Growing<Float64Array>;
  readonly second: Growing<Float64Array>;
  /** Feature of a kept queen, of a family of absorbed ones (by their first row), of a kept pool, of absorbed drones of one mother; 0 = none yet. */
  readonly ofKeptQueen: Int32Array;
  readonly family: Int32Array;
  readonly ofFamily: Int32Array;
  readonly ofKeptPool: Int32Array;
  readonly ofMother: Int32Array;
};

type Load = { first: number; second: number };
/** What a record takes from a queen (½ of her worker effect, all of her queen effect) and from a pool (all of its worker effect). */
const OF_QUEEN: Load = { first: 0.5, second: 1 };
const OF_POOL: Load = { first: 1, second: 0 };

/**
 * Nothing gathered yet: what {@link queenFeature} and {@link poolFeature} add to.
 * @param kept kept node of each row of the positive recursion, −1 where absorbed
 * @param size number of kept nodes
 * @example const { descent, kept, system } = workedEquations(); packFeatures(makeGathering(descent, kept, system.recursion.size)).count // 0
 */
export function makeGathering(descent: Descent, kept: Int32Array, size: number): Gathering {
  const rows = descent.part.recursion.size;
  const start = growingInts(1024);
  pushInt(start, 0);
  return {
    descent,
    kept,
    start,
    node: growingInts(1024),
    first: growingNumbers(1024),
    second: growingNumbers(1024),
    ofKeptQueen: new Int32Array(size),
    family: familiesOf(descent.part.recursion),
    ofFamily: new Int32Array(rows),
    ofKeptPool: new Int32Array(size),
    ofMother: new Int32Array(size),
  };
}

/** For each row the first of the rows beside it that descend from the same older rows with the same weights: its first sister. */
function familiesOf({ size, start, older, weight }: Recursion): Int32Array {
  const out = new Int32Array(size);
  for (let i = 0; i < size; i++) {
    out[i] = i;
    if (i === 0) continue;
    const terms = (start[i + 1] as number) - (start[i] as number);
    let isSister = terms > 0 && terms === (start[i] as number) - (start[i - 1] as number);
    for (let k = 0; isSister && k < terms; k++) {
      const own = (start[i] as number) + k;
      const beside = (start[i - 1] as number) + k;
      isSister = older[own] === older[beside] && weight[own] === weight[beside];
    }
    if (isSister) out[i] = out[i - 1] as number;
  }
  return out;
}

/** Adds a feature of the older rows of an absorbed row, or of what stands for a row of the full recursion; answers its number. */
function pushFeature(g: Gathering, fullRow: number, absorbed: number, load: Load): number {
  const { part } = g.descent;
  const { start, older, weight } =
    absorbed >= 0 ? part.recursion : { start: part.start, older: part.row, weight: part.weight };
  const row = absorbed >= 0 ? absorbed : fullRow;
  for (let k = start[row] as number; k < (start[row + 1] as number); k++) {
    pushInt(g.node, g.kept[older[k] as number] as number);
    pushNumber(g.first, (weight[k] as number) * load.first);
    pushNumber(g.second, (weight[k] as number) * load.second);
  }
  pushInt(g.start, g.node.size);
  return g.start.size - 2;
}

/** What is added when nothing is remembered. */
type Asked = { memory: Int32Array; at: number; load: Load };

/** The feature remembered at a place, made when there is none. */
function remembered(g: Gathering, fullRow: number, absorbed: number, { memory, at, load }: Asked): number {
  const known = memory[at] as number;
  if (known > 0) return known - 1;
  const made = pushFeature(g, fullRow, absorbed, load);
  memory[at] = made + 1;
  return made;
}

/**
 * Number of the feature of a record's queen: herself when kept (loads ½ and 1); when absorbed, her parents' average `½ dam + pool` with the same loads on
 * each, because what is her own went to the residual (Quaas and Pollak 1980, J Anim Sci 51:1277); −1 for an absorbed founder, who has none.
 * @param fullRow her row of the full recursion
 * @param absorbed her row of the positive recursion, −1 when kept ({@link absorbedRow})
 * @example const { descent, kept, system } = workedEquations(); const g = makeGathering(descent, kept, system.recursion.size);
 * const row = descent.queenRow[3]; queenFeature(g, row, absorbedRow(g, row)); // Q1, absorbed: ½ dam A and all of A's semen
 * packFeatures(g) // { count: 1, first: [0.25, 0.5], second: [0.5, 1] }
 */
export function queenFeature(g: Gathering, fullRow: number, absorbed: number): number {
  if (absorbed >= 0) {
    const { start } = g.descent.part.recursion;
    if (start[absorbed] === start[absorbed + 1]) return -1;
    return remembered(g, fullRow, absorbed, { memory: g.ofFamily, at: g.family[absorbed] as number, load: OF_QUEEN });
  }
  const node = soleKept(g, fullRow);
  if (node < 0) return pushFeature(g, fullRow, absorbed, OF_QUEEN);
  return remembered(g, fullRow, absorbed, { memory: g.ofKeptQueen, at: node, load: OF_QUEEN });
}

/**
 * Number of the feature of the pool a record's queen carries: itself when kept (load 1 on the worker effect, 0 on the queen effect: drones have no queen
 * effect on a colony), else what it has of its drone mothers (½ a share of 1); −1 for nothing, as of an absorbed open mating.
 * @param fullRow the pool's row of the full recursion
 * @param absorbed its row of the positive recursion, −1 when kept
 * @example const { descent, kept, system } = workedEquations(); const g = makeGathering(descent, kept, system.recursion.size);
 * const row = descent.carriedRow[0]; poolFeature(g, row, absorbedRow(g, row)); packFeatures(g) // { count: 1, first: [1], second: [0] }; A's semen, kept
 */
export function poolFeature(g: Gathering, fullRow: number, absorbed: number): number {
  const { part } = g.descent;
  if (absorbed < 0) {
    const node = soleKept(g, fullRow);
    if (node >= 0) return remembered(g, fullRow, absorbed, { memory: g.ofKeptPool, at: node, load: OF_POOL });
    return part.start[fullRow] === part.start[fullRow + 1] ? -1 : pushFeature(g, fullRow, absorbed, OF_POOL);
  }
  const { start, older, weight } = part.recursion;
  const from = start[absorbed] as number;
  const terms = (start[absorbed + 1] as number) - from;
  if (terms === 0) return -1;
  if (terms > 1 || weight[from] !== 0.5) return pushFeature(g, fullRow, absorbed, OF_POOL);
  const mother = g.kept[older[from] as number] as number;
  return remembered(g, fullRow, absorbed, { memory: g.ofMother, at: mother, load: OF_POOL });
}

/** The kept node a row of the full recursion is, −1 when it is a combination. */
function soleKept({ descent, kept }: Gathering, fullRow: number): number {
  const { part } = descent;
  const from = part.start[fullRow] as number;
  return (part.start[fullRow + 1] as number) - from === 1 && part.weight[from] === 1
    ? (kept[part.row[from] as number] as number)
    : -1;
}

/**
 * Row of the positive recursion a row of the full one was absorbed as; −1 when it was kept or is a combination of others.
 * @param fullRow a queen's or pool's row of the full recursion
 * @example const equations = workedEquations(); absorbedRow(equations, equations.descent.queenRow[0]) // -1; A has daughters and stays
 */
export function absorbedRow({ descent, kept }: { descent: Descent; kept: Int32Array }, fullRow: number): number {
  const { part } = descent;
  const from = part.start[fullRow] as number;
  if ((part.start[fullRow + 1] as number) - from !== 1) return -1;
  const row = part.row[from] as number;
  return kept[row] === -1 ? row : -1;
}

/**
 * What was gathered, cut to size: the features in their numbers' order, as {@link ./equations.ts} puts them into the mixed system; loads without unit.
 * @example const { descent, kept, system } = workedEquations(); packFeatures(makeGathering(descent, kept, system.recursion.size)).start // [0]
 */
export const packFeatures = (g: Gathering): Features => ({
  count: g.start.size - 1,
  start: filledInts(g.start),
  node: filledInts(g.node),
  first: filledNumbers(g.first),
  second: filledNumbers(g.second),
});
