import { type PositivePart, positivePart } from '#numeric/recursion/positive-part.ts';
import type { Recursion } from '#numeric/recursion/recursion.ts';
import type { Pedigree } from '../pedigree/laid-pedigree.ts';
import { NONE } from '../pedigree/stock.ts';
import { type Groups, groupOfRows } from './groups.ts';

/** Rows of the positive recursion, and how the queens and pools of the records stand in it. */
export type Descent = {
  readonly part: PositivePart;
  /** The full recursion: genetic groups first, then queens and pools. */
  readonly full: Recursion;
  /** How many genetic groups stand before the queens and pools. */
  readonly groups: number;
  /** Row of the full recursion of each queen, of each pool, and of the pool each queen carries. */
  readonly queenRow: Int32Array;
  readonly poolRow: Int32Array;
  readonly carriedRow: Int32Array;
  /** 1 where a row of the full recursion is a pool. */
  readonly isPool: Uint8Array;
};

/**
 * The pedigree as an evaluation needs it: genetic groups in front (one row each, of which founders and open pools have a part; Quaas 1988, J Dairy Sci
 * 71:1338), rows without variance of their own replaced by what they are made of, pools marked. Shares without unit, variances in units of G. Without groups
 * the full recursion is the pedigree's own, not a copy.
 * @example const pedigree = workedPedigree();
 * const groups = groupsOf(pedigree, { founder: new Map([['A', 'Alder']]), open: new Map(), variance: 1 });
 * descentOf(pedigree, groups).full.size - descentOf(pedigree).full.size // 1; the group's row
 */
export function descentOf(pedigree: Pedigree, groups?: Groups): Descent {
  const before = groups?.names.length ?? 0;
  const full = groups === undefined || before === 0 ? pedigree.recursion : withGroups(pedigree, groups);
  const shifted = (nodes: Int32Array) => (before === 0 ? nodes : nodes.map((node) => node + before));
  const [queenRow, poolRow, carriedRow] = [pedigree.queenNode, pedigree.poolNode, pedigree.carriedNode].map(shifted);
  const isPool = new Uint8Array(full.size);
  for (const row of poolRow as Int32Array) isPool[row] = 1;
  const { carries } = pedigree.stock.columns;
  for (let i = 0; i < carries.length; i++) if (carries[i] === NONE) isPool[(carriedRow as Int32Array)[i] as number] = 1;
  return {
    part: positivePart(full),
    full,
    groups: before,
    queenRow: queenRow as Int32Array,
    poolRow: poolRow as Int32Array,
    carriedRow: carriedRow as Int32Array,
    isPool,
  };
}

/** The recursion with one row for each group in front, whose part every founder and open pool has. */
function withGroups(pedigree: Pedigree, groups: Groups): Recursion {
  const { recursion } = pedigree;
  const before = groups.names.length;
  const { group, part } = groupOfRows(pedigree, groups);
  const terms = group.reduce((sum, g) => sum + (g === NONE ? 0 : 1), 0);
  const size = recursion.size + before;
  const start = new Int32Array(size + 1);
  const older = new Int32Array(recursion.older.length + terms);
  const weight = new Float64Array(older.length);
  const own = new Float64Array(size).fill(groups.variance, 0, before);
  own.set(recursion.own, before);
  const level = new Int32Array(size);
  let at = 0;
  for (let i = 0; i < recursion.size; i++) {
    const row = i + before;
    const add = (from: number, w: number) => {
      older[at] = from;
      weight[at++] = w;
      level[row] = Math.max(level[row] as number, 1 + (level[from] as number));
    };
    for (let k = recursion.start[i] as number; k < (recursion.start[i + 1] as number); k++)
      add((recursion.older[k] as number) + before, recursion.weight[k] as number);
    if (group[i] !== NONE) add(group[i] as number, part[i] as number);
    start[row + 1] = at;
  }
  return { size, start, older: older.subarray(0, at), weight: weight.subarray(0, at), own, level };
}
