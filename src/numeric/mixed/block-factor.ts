/**
 * Incomplete block factor of the equations, shaped by the recursion: nodes are eliminated youngest first, and of the couplings that arise only those
 * stay whose pair already stands in the pattern (a node with its older neighbours and with the nodes it shares records with).
 * The prior alone factors exactly in this order, so only what the records add is ever dropped.
 */
import { choleskyInPlace, inverseOf, type Square } from '../dense/small-matrix.ts';
import { invertInPlace, subtractTransposed, timesInto } from './block-arithmetic.ts';
import { type BlockPattern, blockPattern, placeOf } from './block-pattern.ts';
import { inverseClassWeights } from './class-weights.ts';
import type { MixedSystem } from './system.ts';

/**
 * Inverse pivots (`nodes × q × q`, q = effects) and couplings `P⁻¹B` (`pairs × q × q`, rows of the younger node), plus inverse diagonals of the
 * further levels (`levels × traits × traits`); blocks one after another, each row after row.
 */
export type BlockFactor = {
  readonly pattern: BlockPattern;
  readonly effects: number;
  readonly pivot: Float64Array;
  readonly coupling: Float64Array;
  readonly level: Float64Array;
};

type Blocks = { pattern: BlockPattern; q: number; pivot: Float64Array; coupling: Float64Array };

/** into[at …] += scale · block[from …], `length` numbers. */
function addScaled(
  into: Float64Array,
  at: number,
  block: Float64Array,
  from: number,
  length: number,
  scale: number,
): void {
  for (let k = 0; k < length; k++) into[at + k] = (into[at + k] as number) + scale * (block[from + k] as number);
}

/** Adds the prior: (1/own)(e_i − Σ w e_older)(·)' ⊗ G⁻¹, for each pair from both sides. */
function addPrior(system: MixedSystem, { pattern, q, pivot, coupling }: Blocks): void {
  const { start, older, weight, own, size } = system.recursion;
  const g = system.inverseG;
  const length = q * q;
  for (let i = 0; i < size; i++) {
    const inverse = 1 / (own[i] as number);
    addScaled(pivot, i * length, g, 0, length, inverse);
    const from = start[i] as number;
    const to = start[i + 1] as number;
    for (let k = from; k < to; k++) {
      const wk = (weight[k] as number) * inverse;
      const j = older[k] as number;
      addScaled(coupling, placeOf(pattern, i, j) * length, g, 0, length, -wk);
      for (let l = from; l < to; l++) {
        const other = older[l] as number;
        const both = wk * (weight[l] as number);
        if (other === j) addScaled(pivot, j * length, g, 0, length, both);
        else if (other < j) {
          const place = placeOf(pattern, j, other);
          if (place >= 0) addScaled(coupling, place * length, g, 0, length, both);
        }
      }
    }
  }
}

/**
 * Weights of each feature (`features × t × t`) and of each pair left-right, with what the leading factor takes away: W − W Ω⁻¹ W for a record in a
 * class of total weight Ω. `pass` gets an array that is used again.
 */
function effectiveWeights(system: MixedSystem, pass: (r: number, w: Float64Array) => void): void {
  const { traits: t, observations } = system;
  const { weight, classStart } = observations;
  const inverseClass = inverseClassWeights(system);
  const w = new Float64Array(t * t);
  const half = new Float64Array(t * t);
  for (let c = 0; c + 1 < classStart.length; c++) {
    const omega = c * t * t;
    for (let r = classStart[c] as number; r < (classStart[c + 1] as number); r++) {
      const own = r * t * t;
      if (t === 1) {
        const value = weight[r] as number;
        w[0] = value - value * value * (inverseClass[c] as number);
      } else {
        for (let i = 0; i < t; i++) {
          for (let j = 0; j < t; j++) {
            let sum = 0;
            for (let k = 0; k < t; k++)
              sum += (weight[own + i * t + k] as number) * (inverseClass[omega + k * t + j] as number);
            half[i * t + j] = sum;
          }
        }
        for (let i = 0; i < t; i++) {
          for (let j = 0; j < t; j++) {
            let sum = weight[own + i * t + j] as number;
            for (let k = 0; k < t; k++) sum -= (half[i * t + k] as number) * (weight[own + k * t + j] as number);
            w[i * t + j] = sum;
          }
        }
      }
      pass(r, w);
    }
  }
}

/** Adds `w` spread between the effects of term k (rows) and of term l (columns), `q × q`, to `into` at `at`. */
function addSpread(
  { features, traits: t }: MixedSystem,
  w: Float64Array,
  from: number,
  k: number,
  l: number,
  into: Float64Array,
  at: number,
): void {
  const q = 2 * t;
  const [a, b] = [features.first[k] as number, features.second[k] as number];
  const [c, d] = [features.first[l] as number, features.second[l] as number];
  for (let i = 0; i < t; i++) {
    for (let j = 0; j < t; j++) {
      const v = w[from + i * t + j] as number;
      const place = at + 2 * i * q + 2 * j;
      into[place] = (into[place] as number) + a * c * v;
      into[place + 1] = (into[place + 1] as number) + a * d * v;
      into[place + q] = (into[place + q] as number) + b * c * v;
      into[place + q + 1] = (into[place + q + 1] as number) + b * d * v;
    }
  }
}

/** Adds a weight between two features: to pivots where they share a node, to pairs that stand in the pattern. */
function couple(
  system: MixedSystem,
  { pattern, q, pivot, coupling }: Blocks,
  f: number,
  g: number,
  w: Float64Array,
  from: number,
): void {
  const { start, node } = system.features;
  const length = q * q;
  for (let k = start[f] as number; k < (start[f + 1] as number); k++) {
    const i = node[k] as number;
    for (let l = start[g] as number; l < (start[g + 1] as number); l++) {
      const j = node[l] as number;
      if (i === j) addSpread(system, w, from, k, l, pivot, i * length);
      else if (i > j) {
        const place = placeOf(pattern, i, j);
        if (place >= 0) addSpread(system, w, from, k, l, coupling, place * length);
      }
    }
  }
}

function addRecords(system: MixedSystem, blocks: Blocks, level: Float64Array): void {
  const { features, observations, traits: t, factors } = system;
  const length = t * t;
  const own = new Float64Array(features.count * length);
  effectiveWeights(system, (r, w) => {
    const left = observations.left[r] as number;
    const right = observations.right[r] as number;
    if (left >= 0) addScaled(own, left * length, w, 0, length, 1);
    if (right >= 0) addScaled(own, right * length, w, 0, length, 1);
    if (left >= 0 && right >= 0) {
      couple(system, blocks, left, right, w, 0);
      couple(system, blocks, right, left, w, 0);
    }
    for (let k = 0; k < factors; k++) {
      const at = observations.levels[r * factors + k] as number;
      if (at >= 0) addScaled(level, at * length, w, 0, length, 1);
    }
  });
  for (let f = 0; f < features.count; f++) couple(system, blocks, f, f, own, f * length);
}

/** Eliminates the nodes youngest first; `false` when a pivot is not positive definite. Pivots are replaced by their inverses. */
function eliminate({ pattern, q, pivot, coupling }: Blocks): boolean {
  const { start, older, size: nodes } = pattern;
  const length = q * q;
  const room = new Float64Array(2 * length);
  const b = new Float64Array(length);
  for (let i = nodes - 1; i >= 0; i--) {
    if (!invertInPlace(pivot, i * length, q, room)) return false;
    const from = start[i] as number;
    const to = start[i + 1] as number;
    for (let k = from; k < to; k++) {
      const at = k * length;
      for (let e = 0; e < length; e++) b[e] = coupling[at + e] as number;
      timesInto(pivot, i * length, b, q, coupling, at);
      const j = older[k] as number;
      for (let l = from; l <= k; l++) {
        // pairs before l were replaced by P⁻¹B already, so what goes is B_k' P⁻¹ B_l
        const other = older[l] as number;
        if (other === j) subtractTransposed(b, coupling, l * length, q, pivot, j * length);
        else {
          const place = placeOf(pattern, j, other);
          if (place >= 0) subtractTransposed(b, coupling, l * length, q, coupling, place * length);
        }
      }
    }
  }
  return true;
}

/** Couplings are shrunk by these in turn until every pivot is positive; the last leaves only the diagonal blocks. */
const SHRINK = [1, 0.95, 0.8, 0];

/**
 * The incomplete factor of a system. Where dropped couplings leave a pivot that is not positive, all couplings are shrunk and it is done again, at
 * last without them. Time: q³ for each two older neighbours of a node, and t² a record. Throws when a diagonal block itself is not positive
 * definite.
 * @example blockFactor(workedSystem).coupling // [-4 / 11, 0, 0, -0.5]; −⅔ over the diagonals 11/6 and 4/3
 */
export function blockFactor(system: MixedSystem, pattern = blockPattern(system)): BlockFactor {
  const q = system.effects;
  const t = system.traits;
  for (const shrink of SHRINK) {
    const blocks: Blocks = {
      pattern,
      q,
      pivot: new Float64Array(pattern.size * q * q),
      coupling: new Float64Array(pattern.older.length * q * q),
    };
    const level = new Float64Array(system.levelCount * t * t);
    addPrior(system, blocks);
    addRecords(system, blocks, level);
    if (shrink !== 1)
      blocks.coupling.forEach((value, k) => {
        blocks.coupling[k] = value * shrink;
      });
    if (eliminate(blocks))
      return { pattern, effects: q, pivot: blocks.pivot, coupling: blocks.coupling, level: invertLevels(level, t) };
  }
  throw new Error('the equations have a diagonal block that is not positive definite');
}

/** Inverse weight of each further level; a level the leading factor explains wholly gets 0 and so stays 0. */
function invertLevels(level: Float64Array, t: number): Float64Array {
  const out = new Float64Array(level.length);
  for (let at = 0; at < level.length; at += t * t) {
    const block = level.slice(at, at + t * t);
    for (let i = 0; i < t; i++)
      if ((block[i * t + i] as number) < 1e-9) for (let j = 0; j < t; j++) block[i * t + j] = block[j * t + i] = 0;
    const kept = Array.from({ length: t }, (_, i) => i).filter((i) => (block[i * t + i] as number) > 0);
    const part = Float64Array.from(kept.flatMap((i) => kept.map((j) => block[i * t + j] as number)));
    if (kept.length === 0 || !choleskyInPlace(part.slice(), kept.length)) continue;
    const inverse = inverseOf(part, kept.length) as Square;
    kept.forEach((i, a) => {
      kept.forEach((j, b) => {
        out[at + i * t + j] = inverse[a * kept.length + b] as number;
      });
    });
  }
  return out;
}

/**
 * `z = M⁻¹ r` with the incomplete factor; r and z hold every unknown and may be one array. Two passes over the pattern.
 * @example const z = new Float64Array(4); applyFactor(blockFactor(workedSystem), Float64Array.of(1, 0, -1, 0), z); z // [0.4, 0, -0.4, 0]
 */
export function applyFactor(factor: BlockFactor, r: Float64Array, z: Float64Array): void {
  const { pattern, effects: q, pivot, coupling, level } = factor;
  const size = q * q;
  z.set(r);
  for (let i = pattern.size - 1; i >= 0; i--) {
    for (let k = pattern.start[i] as number; k < (pattern.start[i + 1] as number); k++) {
      const j = pattern.older[k] as number;
      for (let e = 0; e < q; e++) {
        let v = 0;
        for (let f = 0; f < q; f++) v += (coupling[k * size + f * q + e] as number) * (z[i * q + f] as number);
        z[j * q + e] = (z[j * q + e] as number) - v;
      }
    }
  }
  const own = new Float64Array(q);
  for (let i = 0; i < pattern.size; i++) {
    for (let e = 0; e < q; e++) {
      let v = 0;
      for (let f = 0; f < q; f++) v += (pivot[i * size + e * q + f] as number) * (z[i * q + f] as number);
      own[e] = v;
    }
    for (let k = pattern.start[i] as number; k < (pattern.start[i + 1] as number); k++) {
      const j = pattern.older[k] as number;
      for (let e = 0; e < q; e++) {
        let v = 0;
        for (let f = 0; f < q; f++) v += (coupling[k * size + e * q + f] as number) * (z[j * q + f] as number);
        own[e] = (own[e] as number) - v;
      }
    }
    for (let e = 0; e < q; e++) z[i * q + e] = own[e] as number;
  }
  applyLevels(pattern.size * q, q / 2, level, z);
}

function applyLevels(first: number, t: number, level: Float64Array, z: Float64Array): void {
  const own = new Float64Array(t);
  for (let at = 0; at < level.length; at += t * t) {
    const place = first + at / t;
    for (let i = 0; i < t; i++) {
      let v = 0;
      for (let j = 0; j < t; j++) v += (level[at + i * t + j] as number) * (z[place + j] as number);
      own[i] = v;
    }
    for (let i = 0; i < t; i++) z[place + i] = own[i] as number;
  }
}
