import { amountAtLeast, reachByCount } from '#numeric/chance/amount-of-many.ts';
import { leastWhere } from '#numeric/chance/binomial.ts';
import { throughChances } from '#numeric/chance/count-mixture.ts';
import type { Factor } from '#numeric/chance/factor.ts';
import { factorProduct } from '#numeric/chance/factor-product.ts';
import type { BiologyProfile } from '../profile.ts';
import { shareOf } from './doubt.ts';
import { eachDrone } from './semen-supply.ts';

/** How many to have at each stage so that the semen is enough with the chance asked for; null where no number up to `most` is enough. */
export type DronesToRaise = {
  /** Drones to take in the hand. */
  handled: number | null;
  /** Mature drones alive and of age in the colony. */
  mature: number | null;
  emerged: number | null;
  laidCells: number | null;
  combs: number | null;
};

const MOST = 100_000;

type Raised = { microlitres: number; ripe: Factor; profile: BiologyProfile; sure?: number };

/** What thins the drones out from each stage on. */
function factorsOf({ profile, ripe }: Raised) {
  const { cellsLaid, emergedDrones, caughtDrones, yielding } = profile.survivals;
  const handled = [shareOf(yielding)];
  const mature = [...handled, shareOf(caughtDrones)];
  const emerged = [...mature, ripe];
  const laid = [...emerged, shareOf(emergedDrones)];
  return { handled, mature, emerged, laid, comb: [...laid, shareOf(cellsLaid)] };
}

/**
 * Drones to raise for so many µl (what queens are given; what stays in the tip comes on top by the profile). `ripe` is the share of emerged
 * drones that is alive and of age on the day (ripeShare of drone-lot.ts). Unequal volumes, doubtful shares and losses combined: each stage has its own
 * least number with P(volume ≥ µl) ≥ sure.
 */
export function dronesToRaise(asked: Raised): DronesToRaise {
  const { handled, mature, emerged, laid, comb } = factorsOf(asked);
  const least = leastNumber(asked.microlitres, asked.profile, asked.sure ?? 0.9);
  const perComb = asked.profile.yields.cellsPerComb.value;
  const cells = least(comb);
  return {
    handled: least(handled),
    mature: least(mature),
    emerged: least(emerged),
    laidCells: least(laid),
    combs: cells === null ? null : Math.ceil(cells / perComb),
  };
}

/** Laid cells alone, as {@link dronesToRaise} counts them; `null` where no number is enough. */
export const laidCellsNeeded = (asked: Raised): number | null =>
  leastNumber(asked.microlitres, asked.profile, asked.sure ?? 0.9)(factorsOf(asked).laid);

function leastNumber(microlitres: number, profile: BiologyProfile, sure: number) {
  const each = eachDrone(profile);
  const reach = reachByCount(microlitres, reachable(microlitres, each.mean.values[0] ?? 1), each);
  return (factors: readonly Factor[]): number | null => {
    const share = factorProduct(factors);
    const enough = (n: number) => amountAtLeast(reach, throughChances(n, share)) >= sure;
    const least = leastWhere(enough, 1, MOST);
    return Number.isFinite(least) ? least : null;
  };
}

/** So many yielding drones reach the volume for certain. */
const reachable = (microlitres: number, least: number) => Math.ceil((3 * microlitres) / Math.max(least, 0.05)) + 50;
