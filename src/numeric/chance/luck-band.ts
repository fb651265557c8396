import { atLeast } from './binomial.ts';

/** One side of the band: the chance of falling outside it on that side is at most this. */
const ONE_SIDE = 0.025;

/**
 * The shares that chance alone gives n trials at rate p about 95 times in 100: the lowest k with P(X <= k) > 2.5 % and the highest
 * with P(X >= k) > 2.5 %, each divided by n. n a whole number >= 1, p 0-1. At n = 1 the band is usually the whole of 0-1. Throws
 * outside these ranges.
 * @example luckBand(9, 0.8) // { low: 5/9, high: 1 }
 */
export function luckBand(n: number, p: number): { low: number; high: number } {
  if (!(Number.isInteger(n) && n >= 1)) throw new RangeError(`luckBand wants a whole number of trials, got ${n}`);
  const atMost = (k: number) => 1 - atLeast(k + 1, n, p);
  let low = 0;
  while (low < n && atMost(low) <= ONE_SIDE) low++;
  let high = n;
  while (high > 0 && atLeast(high, n, p) <= ONE_SIDE) high--;
  return { low: low / n, high: high / n };
}
