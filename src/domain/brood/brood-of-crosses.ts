import type { PedigreeFacts } from '../pedigree/facts.ts';
import { layPedigreeOf } from '../pedigree/pedigree.ts';
import type { PlannedCross } from '../pedigree/planned-cross.ts';
import { type BroodOptions, broodOutlook } from './brood.ts';

/** Plain facts for {@link broodOfCrosses}: they can be sent to another thread. */
export type BroodFacts = {
  stock: PedigreeFacts;
  crosses: readonly PlannedCross[];
  options: Pick<BroodOptions, 'alleles' | 'draws' | 'seed' | 'limit'>;
};

/** Viability 0-1 of each cross, in order: the mean, its standard deviation, the chance to fall below the limit. */
export type BroodOfCrosses = { viability: number; spread: number; belowLimit: number }[] | null;

/** {@link broodOutlook} from plain facts; `null` when the stock's descent cannot be laid out. */
export function broodOfCrosses({ stock, crosses, options }: BroodFacts): BroodOfCrosses {
  const { pedigree } = layPedigreeOf(stock);
  if (pedigree === null) return null;
  const { crosses: outlooks } = broodOutlook(pedigree, crosses, options);
  return (
    outlooks?.map(({ expectedViability, sdViability, probabilityBelowLimit }) => ({
      viability: expectedViability,
      spread: sdViability,
      belowLimit: probabilityBelowLimit,
    })) ?? null
  );
}
