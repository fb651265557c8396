import type { Scaled } from './features.ts';
import { predictor, type RateTable } from './logistic.ts';
import { beginnings, type Conditional, mostLikelyLevels, type RandomFactor } from './random-levels.ts';

/** A logistic mixed model ready to be climbed: `columns + 1` coefficients (intercept first), then one standard deviation a factor. */
export type MixedTable = { table: RateTable; features: Scaled; factors: readonly RandomFactor[] };

/** The Laplace log-likelihood at one place, its exact slope to coefficients and standard deviations, and the levels there. */
export type MixedPlace = { logLikelihood: number; slope: Float64Array; levels: Conditional };

/** For row i and factor k: Σ_l σ_l A⁻¹(level of k, level of l), the row's covariance with its level. */
function covarianceWith(i: number, k: number, { factors, sigma, start, levels }: Spread): number {
  let sum = 0;
  for (let l = 0; l < factors.length; l++) {
    const [a, b] = [k, l].map((f) => (start[f] as number) + (factors[f]?.of[i] as number)) as [number, number];
    sum += (sigma[l] as number) * levels.blocks.inverseAt(Math.min(a, b), Math.max(a, b));
  }
  return sum;
}

type Spread = {
  factors: readonly RandomFactor[];
  sigma: Float64Array;
  start: readonly number[];
  levels: Conditional;
};

/** Half the pull of each row's linear predictor on ln|A| through its weight, and the covariances it is made of. */
function pullOfWeights({ table, factors }: MixedTable, spread: Spread): { pull: Float64Array; cross: Float64Array } {
  const rows = table.trials.length;
  const cross = new Float64Array(rows * factors.length);
  const pull = new Float64Array(rows);
  for (let i = 0; i < rows; i++) {
    let variance = 0;
    for (let k = 0; k < factors.length; k++) {
      const covariance = covarianceWith(i, k, spread);
      cross[i * factors.length + k] = covariance;
      variance += (spread.sigma[k] as number) * covariance;
    }
    pull[i] = 0.5 * variance * (spread.levels.weight[i] as number) * (1 - 2 * (spread.levels.share[i] as number));
  }
  return { pull, cross };
}

/** Σ over rows of a number each, summed by level and multiplied by the factor's standard deviation. */
function byLevel(values: Float64Array, { factors, sigma, start, levels }: Spread): Float64Array {
  const out = new Float64Array(levels.u.length);
  factors.forEach(({ of }, k) => {
    for (let i = 0; i < values.length; i++) {
      const at = (start[k] as number) + (of[i] as number);
      out[at] = (out[at] as number) + (sigma[k] as number) * (values[i] as number);
    }
  });
  return out;
}

/**
 * The slope of ℓ = Σ(y η − m ln(1+e^η)) − ½u'u − ½ln|A|, A = I + ΛZ'WZΛ, at the most likely u. With r = y − m·share, w the weights, s the pull of
 * weights on ½ln|A|, a = A⁻¹ΛZ's and q = ZΛa (how u moves): to b, Σ x (r − s + w q); to σ_k, Σ u_k (r − s + w q) − w·cross_k − a_k r.
 */
function slopeAt(mixed: MixedTable, sigma: Float64Array, levels: Conditional): Float64Array {
  const { table, features, factors } = mixed;
  const [rows, p] = [table.trials.length, features.columns];
  const start = beginnings(factors);
  const spread: Spread = { factors, sigma, start, levels };
  const { pull, cross } = pullOfWeights(mixed, spread);
  const a = levels.blocks.solve(byLevel(pull, spread));
  const slope = new Float64Array(p + 1 + factors.length);
  for (let i = 0; i < rows; i++) {
    const w = levels.weight[i] as number;
    const r = (table.successes[i] as number) - (table.trials[i] as number) * (levels.share[i] as number);
    const places = factors.map(({ of }, k) => (start[k] as number) + (of[i] as number));
    const q = places.reduce((sum, at, k) => sum + (sigma[k] as number) * (a[at] as number), 0);
    const pushed = r - (pull[i] as number) + w * q;
    slope[0] = (slope[0] as number) + pushed;
    for (let k = 0; k < p; k++)
      slope[k + 1] = (slope[k + 1] as number) + pushed * (features.values[i * p + k] as number);
    places.forEach((at, k) => {
      const spreading = w * (cross[i * factors.length + k] as number) + (a[at] as number) * r;
      slope[p + 1 + k] = (slope[p + 1 + k] as number) + pushed * (levels.u[at] as number) - spreading;
    });
  }
  return slope;
}

/**
 * The Laplace log-likelihood (binomial coefficients left out) of a logistic mixed model and its slope, which is exact.
 * Without spread it is the plain logistic likelihood, as in the example: 8 trials at even odds.
 * @param place `columns + 1` coefficients of the scaled features, then the standard deviations; their sign does not matter
 * @param u where to begin with the levels, in standard units
 * @example const factors = [{ levels: 2, of: Int32Array.of(0, 1) }]; const none = { values: new Float64Array(0), columns: 0 };
 * const mixed = { table: { successes: Float64Array.of(1, 3), trials: Float64Array.of(4, 4) }, features: scaled(none), factors };
 * laplaceAt(mixed, Float64Array.of(0, 0), new Float64Array(2)).logLikelihood // 8 * Math.log(0.5)
 */
export function laplaceAt(mixed: MixedTable, place: Float64Array, u: Float64Array): MixedPlace {
  const fixed = mixed.features.columns + 1;
  const sigma = place.slice(fixed);
  const withoutLevels = predictor(mixed.features, mixed.table.trials.length, place.slice(0, fixed));
  const levels = mostLikelyLevels(mixed.table, withoutLevels, {
    factors: mixed.factors,
    sigma,
    u,
  });
  return { logLikelihood: levels.logLikelihood, slope: slopeAt(mixed, sigma, levels), levels };
}
