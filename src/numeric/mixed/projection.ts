/**
 * What is left of values after everything in the model has been taken out: `Py = V⁻¹(y − Xb)`, the working quantity of restricted maximum
 * likelihood, with the solutions of the nodes behind it.
 */
import type { SupernodalFactor } from '../sparse/supernodal-factor.ts';
import { type DirectPattern, type DirectSolution, solveDirect } from './direct.ts';
import { recordFeatures } from './record-features.ts';
import { classesOf, type MixedSystem } from './system.ts';

/** What a projection gives. */
export type Projected = {
  /** Solutions of the nodes, `nodes × effects`. */
  readonly nodes: Float64Array;
  /** `W_r (y_r − Xb_r − f_r)` of every record, `count × traits`. */
  readonly weighted: Float64Array;
};

/** A projection: values as `observations.y` (`count × traits`) in, their solutions and what is left of them out. */
export type Project = (y: Float64Array) => Projected;

/**
 * Projection by a factor of the assembled equations: one solve a call.
 * @example const pattern = directPattern(workedSystem); assemble(workedSystem, pattern);
 * projectDirectly(workedSystem, pattern, factorDirect(pattern))(workedSystem.observations.y).weighted // [2 / 3, -2 / 3]
 */
export function projectDirectly(system: MixedSystem, pattern: DirectPattern, factor: SupernodalFactor): Project {
  return (y) => {
    const solution = solveDirect(system, pattern, factor, y);
    return { nodes: solution.nodes, weighted: weightedRest(system, y, solution) };
  };
}

/**
 * `W (y − Xb − f)` of every record, `count × traits`, from the solutions for y.
 * @example const given = { nodes: Float64Array.of(1 / 3, 0, -1 / 3, 0), classes: Float64Array.of(2), levels: new Float64Array(0) };
 * weightedRest(workedSystem, workedSystem.observations.y, given) // [2 / 3, -2 / 3]; 3 − 2 − ⅓
 */
export function weightedRest(
  system: MixedSystem,
  y: Float64Array,
  { nodes, classes, levels }: DirectSolution,
): Float64Array {
  const { observations, traits: t, factors } = system;
  const fitted = recordFeatures(system, nodes);
  const out = new Float64Array(observations.count * t);
  const rest = new Float64Array(t);
  for (let c = 0; c < classesOf(system); c++) {
    for (let r = observations.classStart[c] as number; r < (observations.classStart[c + 1] as number); r++) {
      for (let s = 0; s < t; s++) {
        let value = (y[r * t + s] as number) - (fitted[r * t + s] as number) - (classes[c * t + s] as number);
        for (let k = 0; k < factors; k++) {
          const level = observations.levels[r * factors + k] as number;
          if (level >= 0) value -= levels[level * t + s] as number;
        }
        rest[s] = value;
      }
      for (let s = 0; s < t; s++) {
        let sum = 0;
        for (let u = 0; u < t; u++) sum += (observations.weight[(r * t + s) * t + u] as number) * (rest[u] as number);
        out[r * t + s] = sum;
      }
    }
  }
  return out;
}
