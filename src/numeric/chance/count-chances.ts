/** Chances of 0, 1, 2 … of something; they add up to 1. */
export type CountChances = Float64Array;

/** Chances of the sum of two independent counts. */
export function addCounts(a: CountChances, b: CountChances): CountChances {
  const sum = new Float64Array(a.length + b.length - 1);
  a.forEach((share, i) => {
    if (share > 0) for (let j = 0; j < b.length; j++) sum[i + j] = (sum[i + j] ?? 0) + share * (b[j] ?? 0);
  });
  return sum;
}

/** The chance of at least k. */
export function countAtLeast(k: number, chances: CountChances): number {
  let sum = 0;
  for (let i = chances.length - 1; i >= Math.max(0, k); i--) sum += chances[i] ?? 0;
  return Math.min(1, sum);
}

/** The mean count. */
export const meanCount = (chances: CountChances): number => chances.reduce((sum, share, k) => sum + k * share, 0);

/** The least count not exceeded with chance `share`: its quantile. */
export function countQuantile(share: number, chances: CountChances): number {
  let sum = 0;
  for (let k = 0; k < chances.length; k++) {
    sum += chances[k] ?? 0;
    if (sum >= share - 1e-12) return k;
  }
  return chances.length - 1;
}
