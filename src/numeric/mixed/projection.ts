/**
 * What is left of values after everything in the model has been taken out: `Py = V⁻¹(y − Xb)`, the working quantity of restricted maximum
 * likelihood, with the solutions of the nodes behind it.
 */
import type { SupernodalFactor } from '../sparse/supernodal-factor.ts';
import { type DirectPattern, type DirectSolution, solveDirect } from './direct.ts';
import { classesOf, type MixedSystem } from './system.ts';

export type Projected = {
  /** Solutions of the nodes, `nodes × effects`. */
  readonly nodes: Float64Array;
  /** `W_r (y_r − Xb_r − f_r)` of every record, `count × traits`. */
  readonly weighted: Float64Array;
};

export type Project = (y: Float64Array) => Projected;

/** Projection by a factor of the assembled equations. */
export function projectDirectly(system: MixedSystem, pattern: DirectPattern, factor: SupernodalFactor): Project {
  return (y) => {
    const solution = solveDirect(system, pattern, factor, y);
    return { nodes: solution.nodes, weighted: weightedRest(system, y, solution) };
  };
}

/** Values of all features for given effects of the nodes, `features × traits`. */
export function featureValues({ features, traits, effects }: MixedSystem, nodes: Float64Array): Float64Array {
  const out = new Float64Array(features.count * traits);
  for (let f = 0; f < features.count; f++) {
    for (let k = features.start[f] as number; k < (features.start[f + 1] as number); k++) {
      const at = (features.node[k] as number) * effects;
      for (let t = 0; t < traits; t++) {
        const value =
          (features.first[k] as number) * (nodes[at + 2 * t] as number) +
          (features.second[k] as number) * (nodes[at + 2 * t + 1] as number);
        out[f * traits + t] = (out[f * traits + t] as number) + value;
      }
    }
  }
  return out;
}

/** Sum of the two features of every record, `count × traits`. */
export function recordFeatures(system: MixedSystem, nodes: Float64Array): Float64Array {
  const { observations, traits } = system;
  const values = featureValues(system, nodes);
  const out = new Float64Array(observations.count * traits);
  for (let r = 0; r < observations.count; r++) {
    for (const feature of [observations.left[r] as number, observations.right[r] as number]) {
      if (feature < 0) continue;
      for (let t = 0; t < traits; t++)
        out[r * traits + t] = (out[r * traits + t] as number) + (values[feature * traits + t] as number);
    }
  }
  return out;
}

/** `W (y − Xb − f)`. */
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
