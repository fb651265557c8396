/** Products with the equations of a {@link MixedSystem}, in plain TypeScript: the twin and oracle of the compiled kernels. */
import { inverseClassWeights } from './class-weights.ts';
import { recordFeatures } from './record-features.ts';
import { classesOf, type MixedSystem, unknownsOf } from './system.ts';

/** A system with its workspace. */
export type Operator = {
  readonly system: MixedSystem;
  /** Inverse total weight of each class of the leading factor, `classes × t × t`. */
  readonly inverseClass: Float64Array;
  /** `features × traits`: values of the features going in, gradients coming back. */
  readonly value: Float64Array;
  readonly gradient: Float64Array;
  /** Weighted residual of the records of one class, and room for one node. */
  readonly weighted: Float64Array;
  readonly node: Float64Array;
};

/**
 * The products of a system made ready; later changes of its weights do not reach the classes' inverses.
 * Throws nothing: a class nobody recorded a trait in counts as 0 there.
 * @example makeOperator(workedSystem).inverseClass // [0.5]
 */
export function makeOperator(system: MixedSystem): Operator {
  const { traits, effects, features, observations } = system;
  let most = 0;
  for (let c = 0; c < classesOf(system); c++) {
    most = Math.max(most, (observations.classStart[c + 1] as number) - (observations.classStart[c] as number));
  }
  return {
    system,
    inverseClass: inverseClassWeights(system),
    value: new Float64Array(features.count * traits),
    gradient: new Float64Array(features.count * traits),
    weighted: new Float64Array(Math.max(1, most) * traits),
    node: new Float64Array(2 * effects),
  };
}

/**
 * `out = (prior + Z'MZ) x`, M = W − W1 Ω⁻¹ 1'W by class: the coefficient matrix of the unknowns after the leading factor was absorbed. x and out have
 * {@link unknownsOf} numbers and may not be one array. Time: one pass over recursion, features and records.
 * @example const out = makeVector(workedSystem);
 * multiply(makeOperator(workedSystem), Float64Array.of(1, 0, 0, 0), out); out // [11 / 6, 0, -7 / 6, 0]
 */
export function multiply(operator: Operator, x: Float64Array, out: Float64Array): void {
  out.fill(0);
  addPrior(operator, x, out);
  readFeatures(operator, x);
  operator.gradient.fill(0);
  passRecords(operator, { x, y: null, out });
  spreadGradient(operator, out);
}

/**
 * `out = Z'My`: the right-hand side for the values `y` (as `observations.y`).
 * @example const out = makeVector(workedSystem);
 * rightHandSide(makeOperator(workedSystem), workedSystem.observations.y, out); out // [1, 0, -1, 0]; off the mean of 2
 */
export function rightHandSide(operator: Operator, y: Float64Array, out: Float64Array): void {
  out.fill(0);
  operator.gradient.fill(0);
  operator.value.fill(0);
  passRecords(operator, { x: null, y, out });
  spreadGradient(operator, out);
}

/** Adds `(I−W)' D⁻¹ (I−W) ⊗ G⁻¹ x`. */
function addPrior({ system, node }: Operator, x: Float64Array, out: Float64Array): void {
  const { recursion, inverseG, effects: q } = system;
  const { start, older, weight, own, size } = recursion;
  for (let i = 0; i < size; i++) {
    const from = start[i] as number;
    const to = start[i + 1] as number;
    for (let e = 0; e < q; e++) {
      let v = x[i * q + e] as number;
      for (let k = from; k < to; k++) v -= (weight[k] as number) * (x[(older[k] as number) * q + e] as number);
      node[e] = v / (own[i] as number);
    }
    for (let e = 0; e < q; e++) {
      let v = 0;
      for (let f = 0; f < q; f++) v += (inverseG[e * q + f] as number) * (node[f] as number);
      out[i * q + e] = (out[i * q + e] as number) + v;
      for (let k = from; k < to; k++) {
        const at = (older[k] as number) * q + e;
        out[at] = (out[at] as number) - (weight[k] as number) * v;
      }
    }
  }
}

/**
 * Values of all features from the unknowns, into the operator's `value` (`features × traits`).
 * @example const operator = makeOperator(workedSystem); readFeatures(operator, Float64Array.of(5, 0, 7, 0)); operator.value // [5, 7]
 */
export function readFeatures({ system, value }: Operator, x: Float64Array): void {
  const { features, traits, effects } = system;
  for (let f = 0; f < features.count; f++) {
    for (let t = 0; t < traits; t++) {
      let sum = 0;
      for (let k = features.start[f] as number; k < (features.start[f + 1] as number); k++) {
        const at = (features.node[k] as number) * effects + 2 * t;
        sum +=
          (features.first[k] as number) * (x[at] as number) + (features.second[k] as number) * (x[at + 1] as number);
      }
      value[f * traits + t] = sum;
    }
  }
}

function spreadGradient({ system, gradient }: Operator, out: Float64Array): void {
  const { features, traits, effects } = system;
  for (let f = 0; f < features.count; f++) {
    for (let t = 0; t < traits; t++) {
      const g = gradient[f * traits + t] as number;
      if (g === 0) continue;
      for (let k = features.start[f] as number; k < (features.start[f + 1] as number); k++) {
        const at = (features.node[k] as number) * effects + 2 * t;
        out[at] = (out[at] as number) + (features.first[k] as number) * g;
        out[at + 1] = (out[at + 1] as number) + (features.second[k] as number) * g;
      }
    }
  }
}

type Pass = { x: Float64Array | null; y: Float64Array | null; out: Float64Array };

/** Value of record r for trait t: its y, or what the unknowns give it. */
function recordValue({ system, value }: Operator, pass: Pass, at: { r: number; t: number }): number {
  const { observations, traits, factors, recursion, effects } = system;
  const { r, t } = at;
  if (pass.y !== null) return pass.y[r * traits + t] as number;
  const left = observations.left[r] as number;
  const right = observations.right[r] as number;
  let sum =
    (left < 0 ? 0 : (value[left * traits + t] as number)) + (right < 0 ? 0 : (value[right * traits + t] as number));
  for (let k = 0; k < factors; k++) {
    const level = observations.levels[r * factors + k] as number;
    if (level >= 0 && pass.x !== null) sum += pass.x[recursion.size * effects + level * traits + t] as number;
  }
  return sum;
}

/** One pass over the records: weights, subtracts what the leading factor explains, and gathers the gradients. */
function passRecords(operator: Operator, pass: Pass): void {
  const { system, weighted, inverseClass, node } = operator;
  const { observations, traits } = system;
  const size = traits * traits;
  for (let c = 0; c < classesOf(system); c++) {
    const from = observations.classStart[c] as number;
    const to = observations.classStart[c + 1] as number;
    const total = node.subarray(0, traits).fill(0);
    for (let r = from; r < to; r++) {
      for (let t = 0; t < traits; t++) weighted[(r - from) * traits + t] = 0;
      for (let s = 0; s < traits; s++) {
        const v = recordValue(operator, pass, { r, t: s });
        for (let t = 0; t < traits; t++) {
          const w = (observations.weight[r * size + t * traits + s] as number) * v;
          weighted[(r - from) * traits + t] = (weighted[(r - from) * traits + t] as number) + w;
          total[t] = (total[t] as number) + w;
        }
      }
    }
    const mean = node.subarray(traits, 2 * traits);
    for (let t = 0; t < traits; t++) {
      let sum = 0;
      for (let s = 0; s < traits; s++)
        sum += (inverseClass[c * size + t * traits + s] as number) * (total[s] as number);
      mean[t] = sum;
    }
    for (let r = from; r < to; r++) settleRecord(operator, pass.out, { r, from, mean });
  }
}

function settleRecord(
  { system, weighted, gradient }: Operator,
  out: Float64Array,
  at: { r: number; from: number; mean: Float64Array },
): void {
  const { observations, traits, factors, recursion, effects } = system;
  const { r, from, mean } = at;
  const left = observations.left[r] as number;
  const right = observations.right[r] as number;
  for (let t = 0; t < traits; t++) {
    let value = weighted[(r - from) * traits + t] as number;
    for (let s = 0; s < traits; s++) {
      value -= (observations.weight[(r * traits + t) * traits + s] as number) * (mean[s] as number);
    }
    if (left >= 0) gradient[left * traits + t] = (gradient[left * traits + t] as number) + value;
    if (right >= 0) gradient[right * traits + t] = (gradient[right * traits + t] as number) + value;
    for (let k = 0; k < factors; k++) {
      const level = observations.levels[r * factors + k] as number;
      if (level < 0) continue;
      const place = recursion.size * effects + level * traits + t;
      out[place] = (out[place] as number) + value;
    }
  }
}

/**
 * What the unknowns x explain of every record, without the leading factor: `count × traits`.
 * @example fittedWithout(makeOperator(workedSystem), Float64Array.of(5, 0, 7, 0)) // [5, 7]
 */
export function fittedWithout({ system }: Operator, x: Float64Array): Float64Array {
  const { observations, traits: t, factors, recursion, effects } = system;
  const out = recordFeatures(system, x);
  if (factors === 0) return out;
  const first = recursion.size * effects;
  for (let r = 0; r < observations.count; r++) {
    for (let k = 0; k < factors; k++) {
      const level = observations.levels[r * factors + k] as number;
      if (level < 0) continue;
      for (let s = 0; s < t; s++) out[r * t + s] = (out[r * t + s] as number) + (x[first + level * t + s] as number);
    }
  }
  return out;
}

/**
 * Solutions of the leading factor, `classes × traits`: Ω⁻¹ Σ_r W_r (y_r − fitted_r), given what everything else explains of the records
 * ({@link fittedWithout}).
 * @example classSolutions(makeOperator(workedSystem), workedSystem.observations.y, Float64Array.of(1, 1)) // [1]; the mean of 3 − 1 and 1 − 1
 */
export function classSolutions(
  { system, inverseClass }: Operator,
  y: Float64Array,
  fitted: Float64Array,
): Float64Array {
  const { observations, traits: t } = system;
  const out = new Float64Array(classesOf(system) * t);
  const total = new Float64Array(t);
  for (let c = 0; c < classesOf(system); c++) {
    total.fill(0);
    for (let r = observations.classStart[c] as number; r < (observations.classStart[c + 1] as number); r++) {
      for (let s = 0; s < t; s++) {
        const rest = (y[r * t + s] as number) - (fitted[r * t + s] as number);
        for (let u = 0; u < t; u++)
          total[u] = (total[u] as number) + (observations.weight[(r * t + u) * t + s] as number) * rest;
      }
    }
    for (let s = 0; s < t; s++) {
      let sum = 0;
      for (let u = 0; u < t; u++) sum += (inverseClass[(c * t + s) * t + u] as number) * (total[u] as number);
      out[c * t + s] = sum;
    }
  }
  return out;
}

/**
 * Room for one vector of unknowns, all 0.
 * @example makeVector(workedSystem).length // 4
 */
export const makeVector = (system: MixedSystem): Float64Array => new Float64Array(unknownsOf(system));
