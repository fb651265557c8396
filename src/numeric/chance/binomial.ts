import { incompleteBeta } from './incomplete-beta.ts';
import { binomialTerm } from './saddle-point.ts';

/** A chance that ties with the one asked for (one of one at 0.9, asked 0.9) must not be missed by its last digit. */
export const ROUNDING = 1e-12;

function check(n: number, p: number): void {
  if (!(Number.isInteger(n) && n >= 0 && p >= 0 && p <= 1)) throw new RangeError(`binomial of n=${n}, p=${p}`);
}

/**
 * P(Binomial(n, p) = k); 0 for a k that is out of range or not whole. Relative error below 1e-13 (Loader 2000). Throws unless n is whole and not
 * below 0 and p 0-1.
 * @example binomialProbability(1, 2, 0.5) // 0.5
 */
export function binomialProbability(k: number, n: number, p: number): number {
  check(n, p);
  if (k < 0 || k > n || !Number.isInteger(k)) return 0;
  return binomialTerm(k, n, p, 1 - p);
}

/**
 * P(Binomial(n, p) >= k): the chance that at least k of n do. n a whole number >= 0, p 0-1.
 * Exact by the incomplete beta function, I_p(k, n − k + 1) (Abramowitz and Stegun 1964, 26.5.24); relative error below 1e-12. Throws as
 * {@link binomialProbability}.
 * @example atLeast(8, 19, 0.595) // 0.9611
 */
export function atLeast(k: number, n: number, p: number): number {
  check(n, p);
  if (k <= 0) return 1;
  if (k > n || p === 0) return 0;
  return p === 1 ? 1 : incompleteBeta(k, n - k + 1, p);
}

/**
 * The least n with P(Binomial(n, p) >= k) >= `sure`: how many to begin with. Infinity when p is 0 and k is not, or `sure` is 1 and
 * p below 1. Found by doubling and halving, since the chance only grows with n. Throws when `sure` or p is not 0-1.
 * @example leastTrials({ k: 106, p: 0.5, sure: 0.9 }) // 231
 */
export function leastTrials({ k, p, sure }: { k: number; p: number; sure: number }): number {
  if (!(sure >= 0 && sure <= 1)) throw new RangeError(`leastTrials wants a chance 0-1, got ${sure}`);
  if (k <= 0) return 0;
  if (p === 0 || (sure === 1 && p < 1)) return Number.POSITIVE_INFINITY;
  return leastWhere((n) => atLeast(k, n, p) >= sure - ROUNDING, k);
}

/**
 * The least whole number from `from` to `most` that passes, for a test that, once passed, stays passed; Infinity when none does. By doubling and
 * halving: about 2 log₂ of the answer's distance from `from` tests.
 * @example leastWhere((n) => n * n >= 50, 1) // 8
 */
export function leastWhere(passes: (n: number) => boolean, from: number, most = 1e9): number {
  if (from > most) return Number.POSITIVE_INFINITY;
  if (passes(from)) return from;
  let failed = from;
  let passed = Math.min(most, from + Math.max(1, from));
  while (!passes(passed)) {
    if (passed >= most) return Number.POSITIVE_INFINITY;
    [failed, passed] = [passed, Math.min(most, 2 * passed - failed + passed)];
  }
  while (passed - failed > 1) {
    const middle = failed + Math.floor((passed - failed) / 2);
    if (passes(middle)) passed = middle;
    else failed = middle;
  }
  return passed;
}
