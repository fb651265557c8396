/** The recursion that the examples of this folder speak of: x₂ = ½x₀ + x₁ + e₂, with variances 1, ½ and ¼ of x₀, x₁ and e₂; so x₂ has variance 1. */
import type { Recursion } from './recursion.ts';

/** See the head of this file. */
export const workedRecursion: Recursion = {
  size: 3,
  start: Int32Array.of(0, 0, 0, 2),
  older: Int32Array.of(0, 1),
  weight: Float64Array.of(0.5, 1),
  own: Float64Array.of(1, 0.5, 0.25),
  level: Int32Array.of(0, 0, 1),
};
