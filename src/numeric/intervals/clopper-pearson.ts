import { betaQuantile } from '#numeric/chance/incomplete-beta.ts';
import { checkCounts, type Interval } from './interval.ts';

/**
 * Clopper and Pearson's interval (1934, Biometrika 26:404): never covers less often than promised, so wider than Wilson's.
 * Quantiles of Beta(x, n − x + 1) and Beta(x + 1, n − x). `alpha` is the share left outside, both ends together.
 * Throws when the counts are impossible.
 * @example clopperPearson(8, 10) // { low: 0.44390, high: 0.97479 }
 */
export function clopperPearson(successes: number, trials: number, alpha = 0.05): Interval {
  checkCounts(successes, trials);
  const missed = trials - successes;
  return {
    low: successes === 0 ? 0 : betaQuantile(alpha / 2, successes, missed + 1),
    high: missed === 0 ? 1 : betaQuantile(1 - alpha / 2, successes + 1, missed),
  };
}
