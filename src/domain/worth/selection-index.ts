/** Several traits as one number to rank by, with the breeder's weights. */
import { inverseOf, type Square } from '#numeric/dense/small-matrix.ts';

/**
 * Σ weight · breeding value, in units of worth. Breeding values of a model of several traits already weigh the records rightly, so nothing is weighed again by
 * reliability. Weights are worth of one unit of the trait; a trait without a weight, or without a value, does not count.
 * @example weighed({ honey: 4, calm: -0.2 }, { honey: 1, calm: 10 }) // 2; 4 · 1 − 0.2 · 10
 */
export function weighed(values: Readonly<Record<string, number>>, weights: Readonly<Record<string, number>>): number {
  return Object.entries(weights).reduce((sum, [trait, weight]) => sum + weight * (values[trait] ?? 0), 0);
}

/**
 * An index of own records: `weights` and `response` have one number a trait, in the traits' order; `accuracy` is 0-1, `goalResponse` in units of
 * worth.
 */
export type RecordIndex = {
  /** Weights of a colony's own records. */
  weights: Float64Array;
  /** Correlation of the index with the goal. */
  accuracy: number;
  /** Change of each trait, and of the goal, by selection of one standard deviation of the index. */
  response: Float64Array;
  goalResponse: number;
};

/**
 * The index of own records `b = P⁻¹Gv` (Smith 1936, Ann Eugen 7:240; Hazel 1943, Genetics 28:476), for a breeder without relatives' records. Accuracy √(b'Pb /
 * v'Gv), response Gb / √(b'Pb) for one standard deviation of selection. `null` when P is not positive definite; not a number where v'Gv is 0.
 * @param P phenotypic covariance of the traits, t × t row after row, in products of their units
 * @param G genetic covariance of the traits, likewise
 * @param v worth of one unit of each trait
 * @example recordIndex(Float64Array.of(100), Float64Array.of(25), Float64Array.of(1)) // { weights: [0.25], accuracy: 0.5, response: [2.5], goalResponse: 2.5 }
 */
export function recordIndex(P: Square, G: Square, v: Float64Array): RecordIndex | null {
  const t = v.length;
  const inverse = inverseOf(P, t);
  if (inverse === null) return null;
  const times = (A: Square, x: Float64Array) =>
    Float64Array.from({ length: t }, (_, i) => x.reduce((sum, value, j) => sum + (A[i * t + j] as number) * value, 0));
  const dot = (a: Float64Array, b: Float64Array) => a.reduce((sum, value, i) => sum + value * (b[i] as number), 0);
  const Gv = times(G, v);
  const weights = times(inverse, Gv);
  const deviation = Math.sqrt(dot(weights, times(P, weights)));
  const response = times(G, weights).map((value) => value / deviation);
  return { weights, accuracy: deviation / Math.sqrt(dot(v, Gv)), response, goalResponse: dot(v, response) };
}
