import { amountAtLeast, amountQuantiles, type EachBrings, reachByCount } from '#numeric/chance/amount-of-many.ts';
import { addCounts, type CountChances, meanCount } from '#numeric/chance/count-chances.ts';
import { throughChances } from '#numeric/chance/count-mixture.ts';
import { known } from '#numeric/chance/count-steps.ts';
import type { Factor } from '#numeric/chance/factor.ts';
import { factorProduct } from '#numeric/chance/factor-product.ts';
import type { Day } from '#units/calendar-day.ts';
import type { AgeWindow, BiologyProfile } from '../profile.ts';
import { keptOf, shareOf, sizeOf } from './doubt.ts';
import { type DroneLot, ripeShare } from './drone-lot.ts';

/** The semen one mother's drones can give on one day: how many drones yield, and what each brings. */
export type SemenSupply = { yielding: CountChances; each: EachBrings };

/** The factors that thin a lot out, from what was counted to a drone that yields. */
export function lotFactors(lot: DroneLot, on: Day, ages: AgeWindow, profile: BiologyProfile): Factor[] {
  const { cellsLaid, emergedDrones, caughtDrones, yielding } = profile.survivals;
  const before: Factor[] =
    lot.counted === 'cells'
      ? [shareOf(cellsLaid), shareOf(emergedDrones)]
      : lot.counted === 'laid'
        ? [shareOf(emergedDrones)]
        : [];
  return [...before, ripeShare(lot, on, ages, profile), shareOf(caughtDrones), shareOf(yielding)];
}

/** Nodes of the µl a drone brings are drawn together to 3 %: the volume is shared by all and only shifts the sum. */
const VOLUME_WIDTH = 0.03;

/** Usable µl of one yielding drone: its volume, less what stays in tip and tube. */
export function eachDrone({ yields }: BiologyProfile): EachBrings {
  const mean = factorProduct([sizeOf(yields.perDrone), keptOf(yields.leftBehind)], VOLUME_WIDTH);
  return { mean, variation: yields.perDroneVariation.value };
}

/** No tail this thin is carried along. */
function trimmed(counts: CountChances): CountChances {
  let end = counts.length;
  while (end > 1 && (counts[end - 1] ?? 0) < 1e-13) end--;
  return counts.slice(0, end);
}

/**
 * What the lots of one mother can give on a day, drones of the ages asked for (the profile's hard window unless told). Lots are taken as independent
 * of each other; within a lot every share is drawn once for all its drones. What one drone brings is by the profile of the first lot.
 */
export function semenSupply(asked: {
  lots: readonly DroneLot[];
  on: Day;
  ages?: AgeWindow;
  profile: BiologyProfile;
}): SemenSupply {
  const { lots, on, profile } = asked;
  const counts = lots.map((lot) => {
    const its = lot.profile ?? profile;
    const ages = asked.ages ?? its.drones.hard;
    return trimmed(throughChances(lot.count, factorProduct(lotFactors(lot, on, ages, its))));
  });
  return { yielding: counts.reduce(addCounts, known(0)), each: eachDrone(lots[0]?.profile ?? profile) };
}

/** The chance that the supply holds at least so many µl. */
export function chanceOfSemen(microlitres: number, { yielding, each }: SemenSupply): number {
  return amountAtLeast(reachByCount(microlitres, yielding.length - 1, each), yielding);
}

/** Mean µl of the supply. */
export function meanSemen({ yielding, each }: SemenSupply): number {
  const perDrone = each.mean.values.reduce((sum, value, i) => sum + value * (each.mean.weights[i] ?? 0), 0);
  return meanCount(yielding) * perDrone;
}

/** Doses that can be counted on, and the middle of what there may be. */
export type DosesOn = {
  sure: number;
  middle: number;
  high: number;
  microlitres: { sure: number; middle: number; high: number };
};

/**
 * "How many doses of mother X on Saturday": whole doses reached with chance `sure` (0.9 unless told), in half of all seasons, and in one of ten.
 * `dose` in µl.
 */
export function dosesOn(supply: SemenSupply, dose: number, sure = 0.9): DosesOn {
  const [low = 0, middle = 0, high = 0] = amountQuantiles([sure, 0.5, 0.1], supply.yielding, supply.each);
  const whole = (microlitres: number) => Math.floor(microlitres / dose + 1e-9);
  return {
    sure: whole(low),
    middle: whole(middle),
    high: whole(high),
    microlitres: { sure: low, middle, high },
  };
}

/** Twenty equally likely amounts in µl, lowest first: the dots of "in 18 of 20 seasons like yours this is enough". */
export function semenDots({ yielding, each }: SemenSupply, dots = 20): number[] {
  const chances = Array.from({ length: dots }, (_, i) => 1 - (i + 0.5) / dots);
  return amountQuantiles(chances, yielding, each);
}
