/**
 * The inverse over the support of one queen, approximately: the incomplete factor's own inverse where nodes are coupled, plus what it misses in the
 * smooth directions. A class of the leading effect moves with the nodes of the record looked at (by that record's part of the class's
 * weight) and in the smooth directions; further effects are taken as known but for their own variance.
 */
import { approximateBlock, type CorrectedInverse } from '#numeric/mixed/approximate-inverse.ts';
import { inverseClassWeights } from '#numeric/mixed/class-weights.ts';
import { recordFeatures } from '#numeric/mixed/record-features.ts';
import type { SmoothCorrection } from '#numeric/mixed/smooth-correction.ts';
import { classesOf, type MixedSystem } from '#numeric/mixed/system.ts';
import type { Equations } from './equations.ts';
import type { InverseOver, Support } from './error-variances.ts';

/**
 * Reads the approximate inverse over supports, in squares of the traits' units: what {@link exactOver} gives, without factoring all equations. The method
 * stands at the head of this file; own construction, how far it is off is measured in the stock itself ({@link reliabilityError}). In small stocks, where the
 * incomplete factor leaves nothing out, it is exact but for rounding.
 * @example const equations = workedEquations(); const pevWorker = [];
 * eachPairError(equations, nearOver(equations, correctedInverse(equations.system)), (_, error) => pevWorker.push(error[0]));
 * pevWorker[0] // 5.957; as exactly
 */
export function nearOver({ system }: Equations, { inverse, correction }: CorrectedInverse): InverseOver {
  const { traits: t, effects: q, recursion } = system;
  const inverseClass = inverseClassWeights(system);
  const firstLevel = recursion.size + classesOf(system);
  const directions = packDirections(system, correction, classDirections(system, inverseClass, correction));
  const block = new Float64Array(q * q);
  const classRow = new ClassRow(system, inverseClass);
  return (support, out) => {
    const { width } = support;
    for (let a = 0; a < support.nodes; a++) {
      for (let b = 0; b <= a; b++) {
        approximateBlock(inverse, support.vertex[a] as number, support.vertex[b] as number, block);
        const [row, column] = [support.at[a] as number, support.at[b] as number];
        for (let i = 0; i < q; i++) {
          for (let j = 0; j < q; j++) {
            out[(row + i) * width + column + j] = block[i * q + j] as number;
            out[(column + j) * width + row + i] = block[i * q + j] as number;
          }
        }
      }
    }
    if (support.record >= 0) classRow.fill(support, out);
    for (let k = support.nodes + 1; k < support.count; k++) {
      const at = support.at[k] as number;
      const from = ((support.vertex[k] as number) - firstLevel) * t * t;
      for (let i = 0; i < t; i++) {
        out.fill(0, (at + i) * width, (at + i + 1) * width);
        for (let row = 0; row < width; row++) out[row * width + at + i] = 0;
      }
      for (let i = 0; i < t; i++)
        for (let j = 0; j < t; j++) out[(at + i) * width + at + j] = inverse.factor.level[from + i * t + j] as number;
    }
    addSmooth(support, directions, { t, q }, out);
  };
}

/** Rows and columns of the record's class: −Ω⁻¹W H Z with the nodes, Ω⁻¹ + Ω⁻¹W H Z H' W Ω⁻¹ with itself. */
class ClassRow {
  readonly #system: MixedSystem;
  readonly #inverseClass: Float64Array;
  /** H Z of the support (`t × width`), Ω⁻¹W, and H as loads on the support's columns. */
  #moved = new Float64Array(0);
  #load = new Float64Array(0);
  readonly #share: Float64Array;

  constructor(system: MixedSystem, inverseClass: Float64Array) {
    this.#system = system;
    this.#inverseClass = inverseClass;
    this.#share = new Float64Array(system.traits ** 2);
  }

  fill(support: Support, out: Float64Array): void {
    const t = this.#system.traits;
    const { width } = support;
    if (this.#moved.length < t * width) {
      this.#moved = new Float64Array(2 * t * width);
      this.#load = new Float64Array(2 * t * width);
    }
    const [load, moved, share] = [this.#load, this.#moved, this.#share];
    this.#loads(support);
    this.#shares(support);
    const nodes = support.at[support.nodes] as number;
    for (let s = 0; s < t; s++) {
      for (let j = 0; j < nodes; j++) {
        let sum = 0;
        for (let k = 0; k < nodes; k++) {
          const h = load[s * width + k] as number;
          if (h !== 0) sum += h * (out[k * width + j] as number);
        }
        moved[s * width + j] = sum;
      }
    }
    const at = nodes;
    for (let i = 0; i < t; i++) {
      for (let j = 0; j < nodes; j++) {
        let sum = 0;
        for (let s = 0; s < t; s++) sum -= (share[i * t + s] as number) * (moved[s * width + j] as number);
        out[(at + i) * width + j] = sum;
        out[j * width + at + i] = sum;
      }
    }
    const c = ((support.vertex[support.nodes] as number) - this.#system.recursion.size) * t * t;
    for (let i = 0; i < t; i++) {
      for (let j = 0; j < t; j++) {
        let sum = this.#inverseClass[c + i * t + j] as number;
        for (let s = 0; s < t; s++) {
          let along = 0;
          for (let k = 0; k < nodes; k++)
            along += (out[(at + i) * width + k] as number) * (load[s * width + k] as number);
          sum -= along * (share[j * t + s] as number);
        }
        out[(at + i) * width + at + j] = sum;
      }
    }
  }

  #loads(support: Support): void {
    const { features, observations, traits: t } = this.#system;
    const { width } = support;
    this.#load.fill(0, 0, t * width);
    for (let side = 0; side < 2; side++) {
      const f = (side === 0 ? observations.left[support.record] : observations.right[support.record]) as number;
      if (f < 0) continue;
      for (let k = features.start[f] as number; k < (features.start[f + 1] as number); k++) {
        let place = 0;
        while (support.vertex[place] !== features.node[k]) place++;
        const at = support.at[place] as number;
        for (let s = 0; s < t; s++) {
          this.#load[s * width + at + 2 * s] =
            (this.#load[s * width + at + 2 * s] as number) + (features.first[k] as number);
          this.#load[s * width + at + 2 * s + 1] =
            (this.#load[s * width + at + 2 * s + 1] as number) + (features.second[k] as number);
        }
      }
    }
  }

  #shares(support: Support): void {
    const { traits: t, observations, recursion } = this.#system;
    const c = ((support.vertex[support.nodes] as number) - recursion.size) * t * t;
    const w = support.record * t * t;
    for (let i = 0; i < t; i++) {
      for (let j = 0; j < t; j++) {
        let sum = 0;
        for (let k = 0; k < t; k++)
          sum += (this.#inverseClass[c + i * t + k] as number) * (observations.weight[w + k * t + j] as number);
        this.#share[i * t + j] = sum;
      }
    }
  }
}

/** How each smooth direction moves the classes: `−Ω⁻¹ Σ_r W_r f_r`, `steps × classes × t`. */
function classDirections(
  system: MixedSystem,
  inverseClass: Float64Array,
  { steps, length, direction }: SmoothCorrection,
): Float64Array {
  const { traits: t, observations } = system;
  const classes = classesOf(system);
  const out = new Float64Array(steps * classes * t);
  const total = new Float64Array(t);
  for (let k = 0; k < steps; k++) {
    const fitted = recordFeatures(system, direction.subarray(k * length, (k + 1) * length));
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

/** Directions row by row of the unknowns (nodes, then classes), each times √|gain|, so that a row lies together; and their signs. */
type Directions = { steps: number; row: Float64Array; sign: Float64Array; firstClassRow: number };

function packDirections(
  system: MixedSystem,
  { steps, length, direction, gain }: SmoothCorrection,
  ofClass: Float64Array,
): Directions {
  const nodeRows = system.recursion.size * system.effects;
  const classRows = classesOf(system) * system.traits;
  const row = new Float64Array((nodeRows + classRows) * steps);
  for (let k = 0; k < steps; k++) {
    const scale = Math.sqrt(Math.abs(gain[k] as number));
    for (let i = 0; i < nodeRows; i++) row[i * steps + k] = scale * (direction[k * length + i] as number);
    for (let i = 0; i < classRows; i++)
      row[(nodeRows + i) * steps + k] = scale * (ofClass[k * classRows + i] as number);
  }
  return { steps, row, sign: gain.map((value) => (value < 0 ? -1 : 1)), firstClassRow: nodeRows };
}

function addSmooth(
  support: Support,
  { steps, row, sign, firstClassRow }: Directions,
  { t, q }: { t: number; q: number },
  out: Float64Array,
): void {
  const { width } = support;
  const rows = support.record < 0 ? support.nodes : support.nodes + 1;
  const firstRow = (k: number) =>
    k < support.nodes
      ? (support.vertex[k] as number) * q
      : firstClassRow + ((support.vertex[k] as number) - firstClassRow / q) * t;
  for (let a = 0; a < rows; a++) {
    const [fromA, highA] = [firstRow(a), a < support.nodes ? q : t];
    for (let b = 0; b <= a; b++) {
      const [fromB, highB] = [firstRow(b), b < support.nodes ? q : t];
      for (let i = 0; i < highA; i++) {
        const x = (fromA + i) * steps;
        for (let j = 0; j < highB; j++) {
          const y = (fromB + j) * steps;
          let sum = 0;
          for (let k = 0; k < steps; k++) sum += (sign[k] as number) * (row[x + k] as number) * (row[y + k] as number);
          const [r, c] = [(support.at[a] as number) + i, (support.at[b] as number) + j];
          out[r * width + c] = (out[r * width + c] as number) + sum;
          if (a !== b) out[c * width + r] = out[r * width + c] as number;
        }
      }
    }
  }
}
