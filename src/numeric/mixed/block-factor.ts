/**
 * Incomplete block factor of the equations, shaped by the recursion: nodes are eliminated youngest first, and of the couplings that arise only those
 * stay whose pair already stands in the pattern (a node with its older neighbours and with the nodes it shares records with).
 * The prior alone factors exactly in this order, so only what the records add is ever dropped.
 */
import { choleskyInPlace, inverseOf, type Square } from '../dense/small-matrix.ts';
import { inverseClassWeights } from './class-weights.ts';
import type { MixedSystem } from './system.ts';

/** Couplings of each node with older ones: pairs `start[i] … start[i+1]−1`, older indices rising. */
export type BlockPattern = { readonly size: number; readonly start: Int32Array; readonly older: Int32Array };

/** Pairs beyond this number of members of one feature are left out of the pattern. */
const MOST_MEMBERS = 4;

/** The pattern of a system: the recursion's own terms and the pairs that stand together in a feature or a record. */
export function blockPattern(system: MixedSystem): BlockPattern {
  const { recursion, features, observations } = system;
  const size = recursion.size;
  const pairs: number[] = [];
  const add = (a: number, b: number) => {
    if (a !== b) pairs.push(Math.max(a, b), Math.min(a, b));
  };
  for (let f = 0; f < features.count; f++) {
    const from = features.start[f] as number;
    const to = features.start[f + 1] as number;
    if (to - from > MOST_MEMBERS) continue;
    for (let k = from; k < to; k++)
      for (let l = from; l < k; l++) add(features.node[k] as number, features.node[l] as number);
  }
  for (let r = 0; r < observations.count; r++) {
    const a = soleNode(system, observations.left[r] as number);
    const b = soleNode(system, observations.right[r] as number);
    if (a >= 0 && b >= 0) add(a, b);
  }
  return packPattern(recursion, size, pairs);
}

/** The node of a feature with exactly one; −1 otherwise. */
function soleNode({ features }: MixedSystem, feature: number): number {
  if (feature < 0) return -1;
  const from = features.start[feature] as number;
  return (features.start[feature + 1] as number) - from === 1 ? (features.node[from] as number) : -1;
}

function packPattern(recursion: MixedSystem['recursion'], size: number, pairs: readonly number[]): BlockPattern {
  const count = new Int32Array(size + 1);
  const bump = (i: number) => {
    count[i + 1] = (count[i + 1] as number) + 1;
  };
  for (let i = 0; i < size; i++) count[i + 1] = (recursion.start[i + 1] as number) - (recursion.start[i] as number);
  for (let k = 0; k < pairs.length; k += 2) bump(pairs[k] as number);
  for (let i = 0; i < size; i++) count[i + 1] = (count[i + 1] as number) + (count[i] as number);
  const older = new Int32Array(count[size] as number);
  const next = count.slice();
  const put = (i: number, j: number) => {
    older[next[i] as number] = j;
    next[i] = (next[i] as number) + 1;
  };
  for (let i = 0; i < size; i++) {
    for (let k = recursion.start[i] as number; k < (recursion.start[i + 1] as number); k++)
      put(i, recursion.older[k] as number);
  }
  for (let k = 0; k < pairs.length; k += 2) put(pairs[k] as number, pairs[k + 1] as number);
  return withoutDoubles(size, count, older);
}

function withoutDoubles(size: number, from: Int32Array, all: Int32Array): BlockPattern {
  const start = new Int32Array(size + 1);
  let at = 0;
  for (let i = 0; i < size; i++) {
    const row = all.subarray(from[i] as number, from[i + 1] as number).sort();
    let last = -1;
    for (const j of row) {
      if (j !== last) all[at++] = j;
      last = j;
    }
    start[i + 1] = at;
  }
  return { size, start, older: all.slice(0, at) };
}

/** Inverse pivots (`size × q × q`) and couplings `P⁻¹B` (one block a pair of the pattern), plus inverse diagonals of the further levels. */
export type BlockFactor = {
  readonly pattern: BlockPattern;
  readonly effects: number;
  readonly pivot: Float64Array;
  readonly coupling: Float64Array;
  readonly level: Float64Array;
};

/** Place of (i, j) in the pattern, or −1. Rows are short, so a plain search by halves. */
export function placeOf({ start, older }: BlockPattern, i: number, j: number): number {
  let low = start[i] as number;
  let high = (start[i + 1] as number) - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const at = older[middle] as number;
    if (at === j) return middle;
    if (at < j) low = middle + 1;
    else high = middle - 1;
  }
  return -1;
}

type Blocks = { pattern: BlockPattern; q: number; pivot: Float64Array; coupling: Float64Array };

function addBlock(into: Float64Array, at: number, block: Float64Array, scale: number): void {
  const size = block.length;
  for (let k = 0; k < size; k++) into[at * size + k] = (into[at * size + k] as number) + scale * (block[k] as number);
}

/** Adds `scale · block` at (i, j): to the pivot, or to the pair (transposed when j is the younger), or nowhere. */
function addPair(blocks: Blocks, i: number, j: number, block: Float64Array, scale: number): void {
  if (i === j) addBlock(blocks.pivot, i, block, scale);
  else if (i > j) {
    const place = placeOf(blocks.pattern, i, j);
    if (place >= 0) addBlock(blocks.coupling, place, block, scale);
  }
}

/** Adds the prior: (1/own)(e_i − Σ w e_older)(·)' ⊗ G⁻¹, for each pair from both sides. */
function addPrior(system: MixedSystem, blocks: Blocks): void {
  const { start, older, weight, own, size } = system.recursion;
  const g = system.inverseG;
  for (let i = 0; i < size; i++) {
    const inverse = 1 / (own[i] as number);
    addBlock(blocks.pivot, i, g, inverse);
    for (let k = start[i] as number; k < (start[i + 1] as number); k++) {
      const wk = (weight[k] as number) * inverse;
      const j = older[k] as number;
      addPair(blocks, i, j, g, -wk);
      for (let l = start[i] as number; l < (start[i + 1] as number); l++) {
        addPair(blocks, j, older[l] as number, g, wk * (weight[l] as number));
      }
    }
  }
}

/**
 * Weights of each feature (`features × t × t`) and of each pair left-right that stands in the pattern, with what the leading factor takes away:
 * W − W Ω⁻¹ W for a record in a class of total weight Ω.
 */
function effectiveWeights(system: MixedSystem, pass: (r: number, w: Float64Array) => void): void {
  const { traits: t, observations } = system;
  const inverseClass = inverseClassWeights(system);
  const w = new Float64Array(t * t);
  for (let c = 0; c + 1 < observations.classStart.length; c++) {
    const omega = inverseClass.subarray(c * t * t, (c + 1) * t * t);
    for (let r = observations.classStart[c] as number; r < (observations.classStart[c + 1] as number); r++) {
      const own = observations.weight.subarray(r * t * t, (r + 1) * t * t);
      for (let i = 0; i < t; i++) {
        for (let j = 0; j < t; j++) {
          let v = own[i * t + j] as number;
          for (let k = 0; k < t; k++) {
            for (let l = 0; l < t; l++) {
              v -= (own[i * t + k] as number) * (omega[k * t + l] as number) * (own[l * t + j] as number);
            }
          }
          w[i * t + j] = v;
        }
      }
      pass(r, w);
    }
  }
}

/** `q × q` block of a t × t weight between the effects (a, b) of one term and (c, d) of another. */
function spread(
  w: Float64Array,
  t: number,
  [a, b, c, d]: readonly [number, number, number, number],
  out: Float64Array,
): void {
  const q = 2 * t;
  for (let i = 0; i < t; i++) {
    for (let j = 0; j < t; j++) {
      const v = w[i * t + j] as number;
      out[2 * i * q + 2 * j] = a * c * v;
      out[2 * i * q + 2 * j + 1] = a * d * v;
      out[(2 * i + 1) * q + 2 * j] = b * c * v;
      out[(2 * i + 1) * q + 2 * j + 1] = b * d * v;
    }
  }
}

function addRecords(system: MixedSystem, blocks: Blocks, level: Float64Array): void {
  const { features, observations, traits: t, factors } = system;
  const own = new Float64Array(features.count * t * t);
  const block = new Float64Array(blocks.q * blocks.q);
  const terms = (feature: number) =>
    [features.start[feature] as number, features.start[feature + 1] as number] as const;
  const couple = (f: number, g: number, w: Float64Array) => {
    const [from, to] = terms(f);
    const [other, end] = terms(g);
    for (let k = from; k < to; k++) {
      for (let l = other; l < end; l++) {
        const [i, j] = [features.node[k] as number, features.node[l] as number];
        spread(
          w,
          t,
          [
            features.first[k] as number,
            features.second[k] as number,
            features.first[l] as number,
            features.second[l] as number,
          ],
          block,
        );
        addPair(blocks, i, j, block, 1);
      }
    }
  };
  effectiveWeights(system, (r, w) => {
    const [left, right] = [observations.left[r] as number, observations.right[r] as number];
    if (left >= 0) addBlock(own, left, w, 1);
    if (right >= 0) addBlock(own, right, w, 1);
    if (left >= 0 && right >= 0) {
      couple(left, right, w);
      couple(right, left, w);
    }
    for (let k = 0; k < factors; k++) {
      const at = observations.levels[r * factors + k] as number;
      if (at >= 0) addBlock(level, at, w, 1);
    }
  });
  for (let f = 0; f < features.count; f++) couple(f, f, own.subarray(f * t * t, (f + 1) * t * t));
}

/** Eliminates the nodes youngest first; `false` when a pivot is not positive definite. */
function eliminate(blocks: Blocks): boolean {
  const { pattern, q, pivot, coupling } = blocks;
  const size = q * q;
  const product = new Float64Array(size);
  for (let i = pattern.size - 1; i >= 0; i--) {
    const inverse = inverseOf(pivot.slice(i * size, (i + 1) * size), q);
    if (inverse === null) return false;
    pivot.set(inverse, i * size);
    const from = pattern.start[i] as number;
    const to = pattern.start[i + 1] as number;
    for (let k = from; k < to; k++) {
      const b = coupling.slice(k * size, (k + 1) * size);
      timesInto(inverse, b, q, coupling.subarray(k * size, (k + 1) * size));
      for (let l = from; l <= k; l++) {
        // rows before l were replaced by P⁻¹B already, so B_k' P⁻¹ B_l
        transposedTimesInto(b, coupling.subarray(l * size, (l + 1) * size), q, product);
        addPair(blocks, pattern.older[k] as number, pattern.older[l] as number, product, -1);
      }
    }
  }
  return true;
}

function timesInto(a: Square, b: Square, q: number, out: Float64Array): void {
  for (let i = 0; i < q; i++) {
    for (let j = 0; j < q; j++) {
      let v = 0;
      for (let k = 0; k < q; k++) v += (a[i * q + k] as number) * (b[k * q + j] as number);
      out[i * q + j] = v;
    }
  }
}

function transposedTimesInto(a: Square, b: Square, q: number, out: Float64Array): void {
  for (let i = 0; i < q; i++) {
    for (let j = 0; j < q; j++) {
      let v = 0;
      for (let k = 0; k < q; k++) v += (a[k * q + i] as number) * (b[k * q + j] as number);
      out[i * q + j] = v;
    }
  }
}

/** Couplings are shrunk by these in turn until every pivot is positive; the last leaves only the diagonal blocks. */
const SHRINK = [1, 0.95, 0.8, 0];

/** The incomplete factor of a system. */
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

/** `z = M⁻¹ r` with the incomplete factor. */
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
