import type { CountChances } from './count-chances.ts';
import type { Nodes } from './factor-product.ts';
import { incompleteGammaAbove } from './incomplete-gamma.ts';
import { normalQuantile } from './normal.ts';

/**
 * What each of a counted lot brings: gamma distributed with the coefficient of variation `variation` (standard deviation / mean, ≥ 0; 0 = all bring
 * the same), and a mean, in the unit amounts are asked in, that is in doubt but the same for all.
 */
export type EachBrings = { mean: Nodes; variation: number };

/** Chance that k pieces of mean `mean` bring at least `wanted`: their sum is again a gamma, with k times the shape. */
function sumAtLeast(wanted: number, k: number, mean: number, variation: number): number {
  if (wanted <= 0) return 1;
  if (k === 0 || mean === 0) return 0;
  if (variation === 0) return k * mean >= wanted * (1 - 1e-12) ? 1 : 0;
  const shape = 1 / (variation * variation);
  return incompleteGammaAbove(k * shape, (wanted * shape) / mean);
}

const SURE = 1e-12;

/**
 * For k = 0 … `most` (so `most` + 1 numbers): the chance that k pieces bring at least `wanted` together, Σ_i weight_i · Q(k/c², wanted/(c² mean_i))
 * with c the variation and Q the upper incomplete gamma function. Rises with k; exact for each node of the mean; all 1 when `wanted` <= 0. Worked out once, it
 * serves every number that may be begun with. Time: nodes × counts at which the chance is neither 0 nor 1.
 * @example reachByCount(4, 4, { mean: { values: Float64Array.of(2), weights: Float64Array.of(1) }, variation: 0.5 })[2] // 0.4530
 */
export function reachByCount(wanted: number, most: number, each: EachBrings): Float64Array {
  const reach = new Float64Array(most + 1);
  each.mean.weights.forEach((weight, i) => {
    const mean = each.mean.values[i] ?? 0;
    // Below and above the few counts that matter the chance is 0 or 1; walk down from the middle and up to where it is sure.
    const middle = mean > 0 ? Math.min(most, Math.floor(wanted / mean)) : most;
    for (let k = middle; k >= 0; k--) {
      const chance = sumAtLeast(wanted, k, mean, each.variation);
      if (chance < SURE) break;
      reach[k] = (reach[k] ?? 0) + weight * chance;
    }
    let sure = false;
    for (let k = middle + 1; k <= most; k++) {
      const chance: number = sure ? 1 : sumAtLeast(wanted, k, mean, each.variation);
      sure = chance > 1 - SURE;
      reach[k] = (reach[k] ?? 0) + weight * chance;
    }
  });
  return reach;
}

/**
 * The chance, Σ_k counts[k] · reach[k], that a doubtful count of pieces reaches what {@link reachByCount} was asked for; counts beyond `reach` take
 * its last.
 * @example amountAtLeast(Float64Array.of(0, 0.5, 1), Float64Array.of(0.25, 0.5, 0.25)) // 0.5
 */
export function amountAtLeast(reach: Float64Array, counts: CountChances): number {
  let sum = 0;
  for (let k = 0; k < counts.length; k++) sum += (counts[k] ?? 0) * (reach[Math.min(k, reach.length - 1)] ?? 0);
  return Math.min(1, sum);
}

/** Bins the amounts are counted into: the finest step of a quantile is the largest amount over so many. */
const BINS = 4096;
/** Counts this unlikely move no quantile. */
const NO_WEIGHT = 1e-10;
/** So many amounts are enough to read quantiles from; few counts are spread over more points than many. */
const AMOUNTS = 40_000;

/** Equally likely values of a standard normal distribution. */
const equallyLikely = (points: number): number[] =>
  Array.from({ length: points }, (_, i) => normalQuantile((i + 0.5) / points));

/** A gamma-distributed sum of mean 1 at a standard normal value (Wilson and Hilferty 1931). */
function gammaAt(z: number, shape: number): number {
  const ninth = 1 / (9 * shape);
  return Math.max(0, 1 - ninth + z * Math.sqrt(ninth)) ** 3;
}

type Tell = (amount: number, weight: number) => void;

/** Tells every amount that may come, with its weight: each count, each mean, and points of the spread of their sum. */
function eachAmount(counts: CountChances, { mean, variation }: EachBrings, tell: Tell): void {
  const likely = [...counts.keys()].filter((k) => (counts[k] ?? 0) >= NO_WEIGHT);
  const points = Math.round(AMOUNTS / (likely.length * mean.values.length));
  const around = variation === 0 ? [0] : equallyLikely(Math.min(401, Math.max(5, points)));
  for (const k of likely) {
    const shape = k / (variation * variation);
    const sums = around.map((z) => (k === 0 ? 0 : variation === 0 ? k : k * gammaAt(z, shape)));
    mean.values.forEach((value, i) => {
      const weight = ((counts[k] ?? 0) * (mean.weights[i] ?? 0)) / around.length;
      for (const sum of sums) tell(value * sum, weight);
    });
  }
}

/** An amount none of those told is above: the most pieces of the largest mean, four standard deviations up. */
function largestAmount(counts: CountChances, { mean, variation }: EachBrings): number {
  let last = counts.length - 1;
  while (last > 0 && (counts[last] ?? 0) < NO_WEIGHT) last--;
  const farthest = variation === 0 || last === 0 ? 1 : gammaAt(4, last / (variation * variation));
  return last * Math.max(...mean.values) * farthest;
}

/**
 * Amounts reached with each of the chances (0-1) asked for, in the unit of the mean; a lower chance gives a higher amount. The sum of k pieces is
 * spread over equally likely points (the cube of a normal: Wilson and Hilferty 1931, Proc Natl Acad Sci 17:684), and all amounts are counted into
 * bins: within half a per cent, and far quicker than halving on exact chances. All 0 when nothing can come.
 * @example amountQuantiles([0.9, 0.5], known(4), { mean: factorProduct([{ kind: 'point', value: 2 }]), variation: 0.5 }) // [5.58, 7.83]
 */
export function amountQuantiles(chances: readonly number[], counts: CountChances, each: EachBrings): number[] {
  const most = largestAmount(counts, each);
  if (most === 0) return chances.map(() => 0);
  const bins = new Float64Array(BINS + 1);
  eachAmount(counts, each, (amount, weight) => {
    const bin = Math.round((amount / most) * BINS);
    bins[bin] = (bins[bin] ?? 0) + weight;
  });
  return chances.map((chance) => (amountOfChance(chance, bins) * most) / BINS);
}

/** The highest bin still reached with that chance. */
function amountOfChance(chance: number, bins: Float64Array): number {
  let above = 0;
  for (let bin = bins.length - 1; bin > 0; bin--) {
    above += bins[bin] ?? 0;
    if (above >= chance - 1e-12) return bin;
  }
  return 0;
}
