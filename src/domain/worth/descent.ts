import { positivePart } from '#numeric/recursion/positive-part.ts';
import type { Pedigree } from '../pedigree/laid-pedigree.ts';
import { NONE } from '../pedigree/stock.ts';
import type { Descent } from './equations.ts';

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
