import { poissonExact } from '#numeric/intervals/poisson-exact.ts';

/** Mites per 100 bees of a wash, with the exact Poisson 95 % interval of the mite count. */
export type MiteWash = { perHundred: number; low: number; high: number };

/**
 * Mites per 100 bees: mites ÷ bees × 100, by the bees that were really washed, not a nominal 300.
 * Throws unless `mites` is a whole number ≥ 0 and `bees` > 0.
 * @example miteWash(43, 310).perHundred // 13.87
 */
export function miteWash(mites: number, bees: number): MiteWash {
  if (!(bees > 0)) throw new RangeError(`not a number of bees: ${bees}`);
  const { low, high } = poissonExact(mites);
  return { perHundred: (100 * mites) / bees, low: (100 * low) / bees, high: (100 * high) / bees };
}

/** Bees of a sample that was weighed: sample ÷ mean weight of one bee, both in grams; not a whole number. */
export function beesByWeight(sample: number, oneBee: number): number {
  if (!(oneBee > 0)) throw new RangeError(`not the weight of a bee: ${oneBee}`);
  return sample / oneBee;
}

/**
 * Growth of an infestation between two washes, per day: ln(later ÷ earlier) ÷ days; null when a wash found none.
 * Doubling time in days = ln 2 ÷ growth.
 */
export function miteGrowth(earlier: number, later: number, days: number): number | null {
  return earlier > 0 && later > 0 && days > 0 ? Math.log(later / earlier) / days : null;
}
