import { incompleteBeta } from './incomplete-beta.ts';
import { normalBelow } from './normal.ts';

/**
 * One positive factor that is not known exactly:
 * - `point`: known;
 * - `share`: 0-1, a Beta with this mean and standard deviation;
 * - `size`: above 0, log-normal with this mean and standard deviation;
 * - `list`: one of several values with their weights (they need not add up to 1).
 */
export type Factor =
  | { kind: 'point'; value: number }
  | { kind: 'share'; mean: number; sd: number }
  | { kind: 'size'; mean: number; sd: number }
  | { kind: 'list'; values: readonly number[]; weights: readonly number[] };

/**
 * The two shapes of a Beta with that mean and standard deviation: a = mean·s, b = (1 − mean)·s, s = mean(1 − mean)/sd² − 1, at least 0.001 (the
 * widest one possible where `sd` is wider). Throws unless 0 < mean < 1 and sd > 0.
 * @example betaShapes(0.8, 0.1) // { a: 12, b: 3 }
 */
export function betaShapes(mean: number, sd: number): { a: number; b: number } {
  if (!(mean > 0 && mean < 1 && sd > 0)) throw new RangeError(`not a share with doubt: ${mean} ± ${sd}`);
  const size = Math.max(1e-3, (mean * (1 - mean)) / (sd * sd) - 1);
  return { a: mean * size, b: (1 - mean) * size };
}

/**
 * Distribution function P(factor <= x) of a factor with a density, for x >= 0: I_x(a, b) of a share; of a size Φ((ln x − μ)/σ) with
 * σ² = ln(1 + (sd/mean)²) and μ = ln mean − σ²/2.
 * @example factorBelow({ kind: 'size', mean: 1, sd: 0.5 })(1) // 0.5934
 */
export function factorBelow(factor: Extract<Factor, { kind: 'share' | 'size' }>): (x: number) => number {
  if (factor.kind === 'share') {
    const { a, b } = betaShapes(factor.mean, factor.sd);
    return (x) => (x >= 1 ? 1 : incompleteBeta(a, b, x));
  }
  const spread = Math.log1p((factor.sd / factor.mean) ** 2);
  const middle = Math.log(factor.mean) - spread / 2;
  return (x) => normalBelow((Math.log(x) - middle) / Math.sqrt(spread));
}

/**
 * Whether nothing is in doubt about it: a point, a standard deviation of 0, or a share of 1.
 * @example isPoint({ kind: 'share', mean: 0.8, sd: 0 }) // true
 */
export const isPoint = (factor: Factor): boolean =>
  factor.kind === 'point' ||
  (factor.kind !== 'list' && factor.sd === 0) ||
  (factor.kind === 'share' && factor.mean >= 1);

/**
 * The mean of a factor; of a list Σ weight·value / Σ weight.
 * @example meanOf({ kind: 'list', values: [1, 4], weights: [2, 1] }) // 2
 */
export function meanOf(factor: Factor): number {
  if (factor.kind === 'point') return factor.value;
  if (factor.kind !== 'list') return factor.mean;
  const total = factor.weights.reduce((sum, weight) => sum + weight, 0);
  return factor.values.reduce((sum, value, i) => sum + value * (factor.weights[i] ?? 0), 0) / total;
}
