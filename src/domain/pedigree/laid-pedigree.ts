import type { FounderSets } from '#numeric/recursion/founder-sets.ts';
import type { Recursion, Walk } from '#numeric/recursion/recursion.ts';
import type { DroneMother } from './sampling.ts';
import { NONE, type Stock } from './stock.ts';

/** A stock with its kinship laid out: everything in kinship.ts and planned-cross.ts works on one. */
export type Pedigree = {
  readonly stock: Stock;
  /** Nodes oldest first; what each descends from stands in the table of pedigree.ts. */
  readonly recursion: Recursion;
  /** Node of each queen, of each pool, and of the pool each queen carries (an open one where nothing is written). */
  readonly queenNode: Int32Array;
  readonly poolNode: Int32Array;
  readonly carriedNode: Int32Array;
  /** Inbreeding F of each queen; for a group, of one of its sisters. */
  readonly inbreeding: Float64Array;
  /** Relationship of each node with itself: 1 + F for a queen, half the chance that two sperm are alike for a pool. */
  readonly self: Float64Array;
  /** Workspace of walks: every question uses it, so one is asked after the other. */
  readonly walk: Walk;
  /** From which founders each node descends: a walk between two nodes goes only towards those they may share. */
  readonly founders: FounderSets;
};

/**
 * What a queen or group (by index) gives her drones, as {@link ./sampling.ts} wants it.
 * @example droneMotherAt(workedPedigree(), 2) // { inbreeding: 0, self: 1, sisters: 1 }
 */
export function droneMotherAt(
  p: Pick<Pedigree, 'stock' | 'inbreeding' | 'self' | 'queenNode'>,
  queen: number,
): DroneMother {
  const sisters = p.stock.columns.sisters[queen] as number;
  const self = p.self[p.queenNode[queen] as number] as number;
  return { inbreeding: sisters === 1 ? self - 1 : (p.inbreeding[queen] as number), self, sisters };
}

/**
 * Index of a queen by id; throws when our own code asks for one that is not in the stock.
 * @example queenOf(workedPedigree(), 'Q1') // 3
 */
export function queenOf(pedigree: Pedigree, id: string): number {
  const queen = pedigree.stock.names.queenIndex(id);
  if (queen === NONE) throw new RangeError(`no queen ${id} in this pedigree`);
  return queen;
}
