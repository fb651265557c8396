import { gammaQuantile } from '#numeric/chance/incomplete-gamma.ts';
import type { Interval } from './interval.ts';

/**
 * The exact interval for the mean behind one count (Garwood 1936, Biometrika 28:437): quantiles of Gamma(count) and Gamma(count + 1).
 * `count` a whole number >= 0; `alpha` the share left outside, both ends together. Throws otherwise.
 * @example poissonExact(10) // { low: 4.7954, high: 18.3904 }
 */
export function poissonExact(count: number, alpha = 0.05): Interval {
  if (!(Number.isInteger(count) && count >= 0)) throw new RangeError(`not a count: ${count}`);
  return {
    low: count === 0 ? 0 : gammaQuantile(alpha / 2, count),
    high: gammaQuantile(1 - alpha / 2, count + 1),
  };
}
