/**
 * The inverse near a record, approximately: the incomplete factor's own inverse where nodes are coupled, plus what it misses in the smooth directions.
 * A class of the leading effect moves with the nodes of the record looked at (by that record's part of the class's weight) and in the smooth
 * directions; further effects are taken as known but for their own variance.
 */
import { multiply } from '#numeric/dense/small-matrix.ts';
import {
  type ApproximateInverse,
  approximateBlock,
  type CorrectedInverse,
} from '#numeric/mixed/approximate-inverse.ts';
import { inverseClassWeights } from '#numeric/mixed/class-weights.ts';
import { recordFeatures } from '#numeric/mixed/projection.ts';
import { classesOf, type MixedSystem } from '#numeric/mixed/system.ts';
import type { Equations } from './equations.ts';
import { classOfRecords, type InverseBlocks } from './error-variances.ts';

type Near = {
  system: MixedSystem;
  inverse: ApproximateInverse;
  inverseClass: Float64Array;
  classOf: Int32Array;
};

/** Blocks of the approximate inverse for {@link eachPairError}. */
export function nearBlocks(equations: Equations, { inverse, correction }: CorrectedInverse): InverseBlocks {
  const { system } = equations;
  const { traits: t, effects: q, recursion, levelCount } = system;
  const near: Near = { system, inverse, inverseClass: inverseClassWeights(system), classOf: classOfRecords(equations) };
  const nodes = recursion.size;
  const firstLevel = nodes + classesOf(system);
  const { steps, length, direction, gain } = correction;
  const ofClass = classDirections(near, { steps, length, direction });
  const turned = new Float64Array(t * q);
  /** Adds the smooth directions; classes stand behind the nodes. */
  const addSmooth = (v: number, w: number, out: Float64Array): void => {
    const [high, wide] = [v < nodes ? q : t, w < nodes ? q : t];
    const at = (vertex: number, k: number) =>
      vertex < nodes ? k * length + vertex * q : (k * classesOf(system) + vertex - nodes) * t;
    const from = (vertex: number) => (vertex < nodes ? direction : ofClass);
    const [a, b] = [from(v), from(w)];
    for (let k = 0; k < steps; k++) {
      const [av, bw] = [at(v, k), at(w, k)];
      for (let i = 0; i < high; i++) {
        const x = (gain[k] as number) * (a[av + i] as number);
        for (let j = 0; j < wide; j++) out[i * wide + j] = (out[i * wide + j] as number) + x * (b[bw + j] as number);
      }
    }
  };
  return (record, v, w, out) => {
    if (v >= firstLevel || w >= firstLevel) {
      const at = (v - firstLevel) * t * t;
      for (let k = 0; k < q * t; k++)
        out[k] = v === w && k < t * t && v - firstLevel < levelCount ? (inverse.factor.level[at + k] as number) : 0;
      return;
    }
    if (v < nodes && w < nodes) approximateBlock(inverse, v, w, out);
    else if (v >= nodes && w >= nodes) classItself(near, record, out);
    else if (v >= nodes) classWithNode(near, record, w, out);
    else {
      classWithNode(near, record, v, turned);
      for (let i = 0; i < q; i++) for (let j = 0; j < t; j++) out[i * t + j] = turned[j * q + i] as number;
    }
    addSmooth(v, w, out);
  };
}

/** How each smooth direction moves the classes: `−Ω⁻¹ Σ_r W_r f_r`, `steps × classes × t`. */
function classDirections(
  { system, inverseClass }: Near,
  given: { steps: number; length: number; direction: Float64Array },
): Float64Array {
  const { traits: t, observations } = system;
  const classes = classesOf(system);
  const out = new Float64Array(given.steps * classes * t);
  const total = new Float64Array(t);
  for (let k = 0; k < given.steps; k++) {
    const fitted = recordFeatures(system, given.direction.subarray(k * given.length, (k + 1) * given.length));
    for (let c = 0; c < classes; c++) {
      total.fill(0);
      for (let r = observations.classStart[c] as number; r < (observations.classStart[c + 1] as number); r++) {
        for (let s = 0; s < t; s++) {
          for (let u = 0; u < t; u++) {
            total[s] =
              (total[s] as number) +
              (observations.weight[(r * t + s) * t + u] as number) * (fitted[r * t + u] as number);
          }
        }
      }
      for (let s = 0; s < t; s++) {
        let sum = 0;
        for (let u = 0; u < t; u++) sum += (inverseClass[(c * t + s) * t + u] as number) * (total[u] as number);
        out[(k * classes + c) * t + s] = -sum;
      }
    }
  }
  return out;
}

/** Ω⁻¹W of a record: its part of its class. */
function shareOf({ system, inverseClass, classOf }: Near, record: number): Float64Array {
  const t = system.traits;
  const c = classOf[record] as number;
  const weight = system.observations.weight.subarray(record * t * t, (record + 1) * t * t);
  return multiply(inverseClass.subarray(c * t * t, (c + 1) * t * t), weight, t);
}

type Visit = (node: number, first: number, second: number) => void;

function eachTerm({ features, observations }: MixedSystem, record: number, visit: Visit): void {
  for (const feature of [observations.left[record] as number, observations.right[record] as number]) {
    if (feature < 0) continue;
    for (let k = features.start[feature] as number; k < (features.start[feature + 1] as number); k++) {
      visit(features.node[k] as number, features.first[k] as number, features.second[k] as number);
    }
  }
}

/** −Ω⁻¹W H Z_·j: how the class of the record moves with node j (`t × q`), through this record alone. */
function classWithNode(near: Near, record: number, node: number, out: Float64Array): void {
  const { traits: t, effects: q } = near.system;
  const hz = new Float64Array(t * q);
  const block = new Float64Array(q * q);
  eachTerm(near.system, record, (other, first, second) => {
    approximateBlock(near.inverse, other, node, block);
    for (let s = 0; s < t; s++) {
      for (let j = 0; j < q; j++) {
        const value = first * (block[2 * s * q + j] as number) + second * (block[(2 * s + 1) * q + j] as number);
        hz[s * q + j] = (hz[s * q + j] as number) + value;
      }
    }
  });
  const share = shareOf(near, record);
  for (let i = 0; i < t; i++) {
    for (let j = 0; j < q; j++) {
      let sum = 0;
      for (let k = 0; k < t; k++) sum += (share[i * t + k] as number) * (hz[k * q + j] as number);
      out[i * q + j] = -sum;
    }
  }
}

/** Ω⁻¹ + Ω⁻¹W H Z H' W Ω⁻¹. */
function classItself(near: Near, record: number, out: Float64Array): void {
  const { traits: t, effects: q } = near.system;
  const c = near.classOf[record] as number;
  for (let k = 0; k < t * t; k++) out[k] = near.inverseClass[c * t * t + k] as number;
  const moved = new Float64Array(t * q);
  const share = shareOf(near, record);
  eachTerm(near.system, record, (node, first, second) => {
    classWithNode(near, record, node, moved);
    for (let i = 0; i < t; i++) {
      for (let j = 0; j < t; j++) {
        let sum = 0;
        for (let s = 0; s < t; s++) {
          const along = first * (moved[i * q + 2 * s] as number) + second * (moved[i * q + 2 * s + 1] as number);
          sum += along * (share[j * t + s] as number);
        }
        out[i * t + j] = (out[i * t + j] as number) - sum;
      }
    }
  });
}
