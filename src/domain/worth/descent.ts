import { type PositivePart, positivePart } from '#numeric/recursion/positive-part.ts';
import type { Pedigree } from '../pedigree/laid-pedigree.ts';
import { NONE } from '../pedigree/stock.ts';

/** Rows of the positive recursion, and how the queens and pools of the records stand in it. */
export type Descent = {
  readonly part: PositivePart;
  /** Row of the full recursion of each queen, and of the pool she carries. */
  readonly queenRow: Int32Array;
  readonly carriedRow: Int32Array;
  /** 1 where a row of the full recursion is a pool. */
  readonly isPool: Uint8Array;
};

/** The pedigree as an evaluation needs it: rows without variance of their own replaced, pools marked. */
export function descentOf(pedigree: Pedigree): Descent {
  const isPool = new Uint8Array(pedigree.recursion.size);
  for (const node of pedigree.poolNode) isPool[node] = 1;
  const { carries } = pedigree.stock.columns;
  for (let i = 0; i < carries.length; i++) if (carries[i] === NONE) isPool[pedigree.carriedNode[i] as number] = 1;
  return {
    part: positivePart(pedigree.recursion),
    queenRow: pedigree.queenNode,
    carriedRow: pedigree.carriedNode,
    isPool,
  };
}
