/** Chances of 0, 1, 2 … of something, the count being the index; they add up to 1. */
export type CountChances = Float64Array;

/**
 * Chances of the sum of two independent counts (their convolution): a.length + b.length − 1 numbers. Time: the product of the lengths.
 * @example addCounts(Float64Array.of(0.5, 0.5), Float64Array.of(0.5, 0.5)) // [0.25, 0.5, 0.25]
 */
export function addCounts(a: CountChances, b: CountChances): CountChances {
  const sum = new Float64Array(a.length + b.length - 1);
  a.forEach((share, i) => {
    if (share > 0) for (let j = 0; j < b.length; j++) sum[i + j] = (sum[i + j] ?? 0) + share * (b[j] ?? 0);
  });
  return sum;
}

/**
 * The chance of at least k, 0-1; 0 for a k beyond the last count.
 * @example countAtLeast(1, Float64Array.of(0.25, 0.5, 0.25)) // 0.75
 */
export function countAtLeast(k: number, chances: CountChances): number {
  let sum = 0;
  for (let i = chances.length - 1; i >= Math.max(0, k); i--) sum += chances[i] ?? 0;
  return Math.min(1, sum);
}

/**
 * The mean count, Σ k · chances[k].
 * @example meanCount(Float64Array.of(0.25, 0.5, 0.25)) // 1
 */
export const meanCount = (chances: CountChances): number => chances.reduce((sum, share, k) => sum + k * share, 0);

/**
 * The quantile at `share` (0-1): the least k with P(count <= k) >= share; the last count where rounding leaves none.
 * @example countQuantile(0.3, Float64Array.of(0.25, 0.5, 0.25)) // 1
 */
export function countQuantile(share: number, chances: CountChances): number {
  let sum = 0;
  for (let k = 0; k < chances.length; k++) {
    sum += chances[k] ?? 0;
    if (sum >= share - 1e-12) return k;
  }
  return chances.length - 1;
}
