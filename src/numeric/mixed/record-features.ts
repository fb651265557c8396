import type { MixedSystem } from './system.ts';

/** Values of all features for given effects of the nodes, `features × traits`. */
function featureValues({ features, traits, effects }: MixedSystem, nodes: Float64Array): Float64Array {
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

/**
 * Sum f_r of the two features of every record, `count × traits`, for effects of the nodes (`nodes × effects`; more may follow).
 * @example recordFeatures(workedSystem, Float64Array.of(5, 0, 7, 0)) // [5, 7]
 */
export function recordFeatures(system: MixedSystem, nodes: Float64Array): Float64Array {
  const { observations, traits } = system;
  const values = featureValues(system, nodes);
  const out = new Float64Array(observations.count * traits);
  for (let r = 0; r < observations.count; r++) {
    const left = (observations.left[r] as number) * traits;
    const right = (observations.right[r] as number) * traits;
    for (let t = 0; t < traits; t++) {
      let sum = 0;
      if (left >= 0) sum += values[left + t] as number;
      if (right >= 0) sum += values[right + t] as number;
      out[r * traits + t] = sum;
    }
  }
  return out;
}
