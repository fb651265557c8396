import { betaQuantile } from '#numeric/chance/incomplete-beta.ts';
import { checkCounts, type Interval } from './interval.ts';

/**
 * Jeffreys' interval: the middle 95 % of Beta(x + ½, n − x + ½), with the end at 0 (or 1) fixed when none (or all) succeeded and the
 * other end still at alpha/2 (Brown, Cai and DasGupta 2001, Stat. Sci. 16:101, with that convention). `alpha` is the share left outside, both ends
 * together. Throws when the counts are impossible.
 * @example jeffreys(17, 20) // { low: 0.65142, high: 0.95587 }
 */
export function jeffreys(successes: number, trials: number, alpha = 0.05): Interval {
  checkCounts(successes, trials);
  const a = successes + 0.5;
  const b = trials - successes + 0.5;
  return {
    low: successes === 0 ? 0 : betaQuantile(alpha / 2, a, b),
    high: successes === trials ? 1 : betaQuantile(1 - alpha / 2, a, b),
  };
}
