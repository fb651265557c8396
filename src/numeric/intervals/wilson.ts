import { checkCounts, type Interval, Z95 } from './interval.ts';

/**
 * Wilson's score interval for a share: what the true share may be when `successes` of `trials` (>= 1) were seen.
 * (p̂ + z²/2n ± z√(p̂(1−p̂)/n + z²/4n²)) / (1 + z²/n), Wilson 1927, J. Am. Stat. Assoc. 22:209. Lies in 0-1; touches 0 at none
 * and 1 at all. z: how many standard errors, 1.96 for 95 %. Throws when the counts are impossible.
 * @example wilson(8, 10) // { low: 0.49016, high: 0.94332 }
 */
export function wilson(successes: number, trials: number, z: number = Z95): Interval {
  checkCounts(successes, trials);
  const share = successes / trials;
  const scale = 1 + (z * z) / trials;
  const middle = share + (z * z) / (2 * trials);
  const reach = z * Math.sqrt((share * (1 - share)) / trials + (z * z) / (4 * trials * trials));
  return {
    low: successes === 0 ? 0 : (middle - reach) / scale,
    high: successes === trials ? 1 : (middle + reach) / scale,
  };
}
