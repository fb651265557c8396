/**
 * The system that the examples of this folder speak of, small enough to be solved by head: one trait, two nodes with x₁ = ½x₀ + e₁ and variance 1 each (in both
 * effects, which are independent), one record of each node's first effect, 3 and 1, residual variance 1, one mean. Then A = (1 ½; ½ 1), the mean is 2, and
 * the solutions of the first effect are ⅓ and −⅓.
 */
import { identity } from '../dense/small-matrix.ts';
import type { MixedSystem } from './system.ts';

/** See the head of this file. */
export const workedSystem: MixedSystem = {
  traits: 1,
  effects: 2,
  recursion: {
    size: 2,
    start: Int32Array.of(0, 0, 1),
    older: Int32Array.of(0),
    weight: Float64Array.of(0.5),
    own: Float64Array.of(1, 0.75),
    level: Int32Array.of(0, 1),
  },
  inverseG: identity(2),
  features: {
    count: 2,
    start: Int32Array.of(0, 1, 2),
    node: Int32Array.of(0, 1),
    first: Float64Array.of(1, 1),
    second: Float64Array.of(0, 0),
  },
  observations: {
    count: 2,
    y: Float64Array.of(3, 1),
    weight: Float64Array.of(1, 1),
    left: Int32Array.of(0, 1),
    right: Int32Array.of(-1, -1),
    classStart: Int32Array.of(0, 2),
    levels: new Int32Array(0),
  },
  factors: 0,
  levelCount: 0,
  classPrior: null,
};
