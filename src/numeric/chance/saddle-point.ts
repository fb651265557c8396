import { logGamma } from './log-gamma.ts';

/*
 * The saddle-point form of Loader 2000, "Fast and accurate computation of binomial probabilities": the large terms of a density
 * cancel on paper instead of in the machine, so a probability keeps 14 digits however large its counts are.
 */

const HALF_LOG_TWO_PI = 0.9189385332046728;

/**
 * ln n! − Stirling's approximation, for real n > 0: the series 1/12n − 1/360n³ + … from 15 on.
 * @example stirlingError(1) // 1 - Math.log(2 * Math.PI) / 2
 */
export function stirlingError(n: number): number {
  if (n <= 15) return logGamma(n + 1) - (n + 0.5) * Math.log(n) + n - HALF_LOG_TWO_PI;
  const square = n * n;
  return (1 / 12 - (1 / 360 - (1 / 1260 - (1 / 1680 - 1 / 1188 / square) / square) / square) / square) / n;
}

/**
 * x ln(x/m) + m − x >= 0 without cancellation, for x, m > 0 (Loader's deviance, his D₀).
 * @example devianceTerm(2, 1) // 2 * Math.log(2) - 1
 */
export function devianceTerm(x: number, m: number): number {
  if (Math.abs(x - m) >= 0.1 * (x + m)) return x * Math.log(x / m) + m - x;
  const v = (x - m) / (x + m);
  let sum = (x - m) * v;
  let power = 2 * x * v;
  for (let j = 1; j < 1000; j++) {
    power *= v * v;
    const next = sum + power / (2 * j + 1);
    if (next === sum) break;
    sum = next;
  }
  return sum;
}

/**
 * Γ(n+1)/(Γ(x+1)Γ(n−x+1)) pˣ qⁿ⁻ˣ for real 0 <= x <= n, with q = 1 − p given apart: the binomial probability, and the
 * front factor of the incomplete beta function. Relative error below 1e-13.
 * @example binomialTerm(1, 2, 0.5, 0.5) // 0.5
 */
export function binomialTerm(x: number, n: number, p: number, q: number): number {
  if (p === 0) return x === 0 ? 1 : 0;
  if (q === 0) return x === n ? 1 : 0;
  if (n === 0) return 1;
  if (x === 0) return Math.exp(p < 0.1 ? -devianceTerm(n, n * q) - n * p : n * Math.log(q));
  if (x === n) return Math.exp(q < 0.1 ? -devianceTerm(n, n * p) - n * q : n * Math.log(p));
  const y = n - x;
  const exponent =
    stirlingError(n) - stirlingError(x) - stirlingError(y) - devianceTerm(x, n * p) - devianceTerm(y, n * q);
  return Math.exp(exponent) * Math.sqrt(n / (2 * Math.PI * x * y));
}

/**
 * e^(−m) mˣ / Γ(x+1) for real x >= 0, m >= 0: the Poisson probability, and the front factor of the incomplete gamma. Relative error as
 * {@link binomialTerm}.
 * @example poissonTerm(2, 3) // 0.22404
 */
export function poissonTerm(x: number, m: number): number {
  if (m === 0) return x === 0 ? 1 : 0;
  if (x === 0) return Math.exp(-m);
  return Math.exp(-stirlingError(x) - devianceTerm(x, m)) / Math.sqrt(2 * Math.PI * x);
}
