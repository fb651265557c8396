import { inverseOfPart, type Square } from '../dense/small-matrix.ts';
import { classesOf, type MixedSystem } from './system.ts';

/**
 * For each class of the leading factor the inverse of its total weight, `(prior + Σ_r W_r)⁻¹`: `classes × t × t`; 0 for traits nobody recorded
 * there.
 * @example inverseClassWeights(workedSystem) // [0.5]; two records of weight 1
 */
export function inverseClassWeights(system: MixedSystem): Float64Array {
  const { traits, observations, classPrior } = system;
  const size = traits * traits;
  const classes = classesOf(system);
  const out = new Float64Array(classes * size);
  const sum: Square = new Float64Array(size);
  for (let c = 0; c < classes; c++) {
    if (classPrior === null) sum.fill(0);
    else sum.set(classPrior);
    for (let r = observations.classStart[c] as number; r < (observations.classStart[c + 1] as number); r++) {
      for (let k = 0; k < size; k++) sum[k] = (sum[k] as number) + (observations.weight[r * size + k] as number);
    }
    if (size === 1) out[c] = (sum[0] as number) > 0 ? 1 / (sum[0] as number) : 0;
    else out.set(inverseOfPart(sum, traits), c * size);
  }
  return out;
}
