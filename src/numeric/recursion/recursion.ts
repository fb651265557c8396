/**
 * Linear recursion: `x_i = Σ weight · x_older + e_i`, every `older` < i, the `e_i` independent with variance `own_i`.
 *
 * The covariance matrix of all x is then `A = T D T'` with T the inverse of (I − W) and D diagonal, and
 * `A⁻¹ = (I − W)' D⁻¹ (I − W)`. Nothing here forms A: a quadratic or bilinear form is a walk up the older neighbours
 * (Meuwissen and Luo 1992, Genet Sel Evol 24:305, give the walk for a diagonal element), a column is two sweeps.
 */

import { type FounderSets, foundersOf, mayMeet } from './founder-sets.ts';

/**
 * Rows 0 … size−1 in compressed form: row i has the terms `older[k]`, `weight[k]` for k = `start[i] … start[i+1]−1`; `start` has size + 1 numbers,
 * `own` and `level` size each.
 *
 * ```ts
 * // x₂ = ½x₀ + x₁ + e₂
 * const recursion = { size: 3, start: Int32Array.of(0, 0, 0, 2), older: Int32Array.of(0, 1), weight: Float64Array.of(0.5, 1),
 *   own: Float64Array.of(1, 0.5, 0.25), level: Int32Array.of(0, 0, 1) };
 * covarianceWith(recursion, Float64Array.of(0, 0, 1)); // ½, ½, 1: covariances of x₂ with x₀, x₁ and itself
 * ```
 */
export type Recursion = {
  readonly size: number;
  readonly start: Int32Array;
  /** Index of an older row, always smaller than the row itself. */
  readonly older: Int32Array;
  readonly weight: Float64Array;
  /** Variance of e_i, ≥ 0. */
  readonly own: Float64Array;
  /** 0 for a row without older neighbours, else one more than the highest level among them. */
  readonly level: Int32Array;
};

/**
 * Highest level of a recursion plus one; 1 for an empty one.
 * @example depthOf(workedRecursion) // 2
 */
export function depthOf(recursion: Recursion): number {
  let highest = 0;
  for (let i = 0; i < recursion.size; i++) highest = Math.max(highest, recursion.level[i] as number);
  return highest + 1;
}

/**
 * Workspace of {@link settle}: rows waiting in one queue per level, so the youngest are always taken first without a heap. Walks jump about, so what
 * a visit needs of a row lies in 32 bytes of its own (two rows to a line of the cache), copied from the recursion when a walk first comes by;
 * queues, not linked lists, so that the lines of several waiting rows are fetched at the same time.
 */
export type Walk = {
  readonly recursion: Recursion;
  /** Where the queue of each level begins in `queue`, and where its next row goes. */
  readonly first: Int32Array;
  readonly next: Int32Array;
  readonly queue: Int32Array;
  /** Four doubles a row: left and right part of the two combinations, then the integers below. The parts hold only while the row waits. */
  readonly line: Float64Array;
  /** The same memory as eight integers a row: its first two older rows, then its mark (level, shape and state in one). */
  readonly whole: Int32Array;
  top: number;
};

const OLDER = 4;
const MARK = 6;
/** States, the lowest bits of a mark: 0 is a row no walk has come by. */
const STATES = 3;
const IDLE = 1;
const WAITS = 2;
const SHAPE_SHIFT = 2;
const LEVEL_SHIFT = 4;

/** What a row takes of older ones: nothing; half of one; half of one and all of another; anything else. The first three are nearly all rows. */
export const SHAPE = { alone: 0, half: 1, halfAndAll: 2, any: 3 } as const;

/**
 * The {@link SHAPE} of a row: most rows need no look at their weights.
 * @example shapeOf(workedRecursion, 2) === SHAPE.halfAndAll // true
 */
export function shapeOf({ start, weight }: Recursion, row: number): number {
  const from = start[row] as number;
  const terms = (start[row + 1] as number) - from;
  if (terms === 0) return SHAPE.alone;
  if (weight[from] !== 0.5 || terms > 2) return SHAPE.any;
  if (terms === 1) return SHAPE.half;
  return weight[from + 1] === 1 ? SHAPE.halfAndAll : SHAPE.any;
}

/**
 * A workspace for walks up `recursion`, whose own variances may still be filling: rows must be filled before a walk reaches them (terms and levels
 * must be there from the first). Memory: 36 bytes a row.
 * @example const walk = makeWalk(workedRecursion); seed(walk, 0, 1, 0); seed(walk, 2, 0, 1); settle(walk) // 0.5; cov(x₀, x₂)
 */
export function makeWalk(recursion: Recursion, levels = depthOf(recursion)): Walk {
  const first = new Int32Array(levels + 1);
  for (let i = 0; i < recursion.size; i++) {
    const level = recursion.level[i] as number;
    first[level + 1] = (first[level + 1] as number) + 1;
  }
  for (let level = 0; level < levels; level++)
    first[level + 1] = (first[level + 1] as number) + (first[level] as number);
  const line = new Float64Array(4 * recursion.size);
  return {
    recursion,
    first,
    next: first.slice(),
    queue: new Int32Array(recursion.size),
    line,
    whole: new Int32Array(line.buffer),
    top: -1,
  };
}

/** Copies what does not change of a row into its line; answers its mark. */
function copyRow({ recursion, whole }: Walk, row: number): number {
  const { start, older, level } = recursion;
  const from = start[row] as number;
  const to = start[row + 1] as number;
  const at = 8 * row + OLDER;
  if (from < to) whole[at] = older[from] as number;
  if (from + 1 < to) whole[at + 1] = older[from + 1] as number;
  return ((level[row] as number) << LEVEL_SHIFT) | (shapeOf(recursion, row) << SHAPE_SHIFT) | IDLE;
}

/** Adds to a row's two parts, and lets it wait if it does not yet; answers its level. */
function put(walk: Walk, row: number, left: number, right: number): number {
  const { line, whole, next, queue } = walk;
  const at = 4 * row;
  const atMark = 8 * row + MARK;
  let mark = whole[atMark] as number;
  if ((mark & STATES) === WAITS) {
    line[at] = (line[at] as number) + left;
    line[at + 1] = (line[at + 1] as number) + right;
    return mark >> LEVEL_SHIFT;
  }
  if (mark === 0) mark = copyRow(walk, row);
  whole[atMark] = mark ^ (IDLE | WAITS);
  line[at] = left;
  line[at + 1] = right;
  const level = mark >> LEVEL_SHIFT;
  const place = next[level] as number;
  queue[place] = row;
  next[level] = place + 1;
  return level;
}

/**
 * Adds `left` and `right` to the weights of `row` in the two combinations l and r that the next {@link settle} compares.
 * Weights may be any numbers; a row seeded twice has the sum.
 * @example const walk = makeWalk(workedRecursion); seed(walk, 0, 1, 1); seed(walk, 1, 1, -1); settle(walk) // 0.5; cov(x₀ + x₁, x₀ − x₁) = 1 − ½
 */
export function seed(walk: Walk, row: number, left: number, right: number): void {
  const level = put(walk, row, left, right);
  if (level > walk.top) walk.top = level;
}

/** Where the founder sets of the two rows seeded left and right begin: older rows of one that may not meet the other are not followed. */
type Towards = { readonly sets: FounderSets; readonly left: number; readonly right: number };

/**
 * Covariance of the two seeded combinations, `l' A r = Σ (T'l)_i (T'r)_i own_i`, visiting only their older neighbours.
 * The workspace is clean again afterwards. Exactly 0 when the two share no older row. Time: the terms of the rows visited.
 * @example const walk = makeWalk(workedRecursion); seed(walk, 2, 1, 1); settle(walk) // 1; var(x₂) = ¼ + ½ + ¼
 */
export const settle = (walk: Walk): number => settleTowards(walk, null);

/**
 * Covariance of two rows: the number {@link seed} and {@link settle} give, from fewer rows, because older rows of one that share no founder with the
 * other are not followed. The workspace must be clean, and is again afterwards.
 * @param sets founder sets of the walk's recursion, filled for all older rows of both
 * @example const sets = makeFounderSets(workedRecursion);
 * for (const row of [0, 1]) gatherFounders(sets, workedRecursion, row);
 * covarianceOfPair(makeWalk(workedRecursion), sets, 2, 1) // 0.5
 */
export function covarianceOfPair(walk: Walk, sets: FounderSets, one: number, other: number): number {
  const left = foundersOf(sets, walk.recursion, one, 0);
  const right = foundersOf(sets, walk.recursion, other, 1);
  if (one !== other && !mayMeet(sets.word, left, right)) return 0;
  seed(walk, one, 1, 0);
  seed(walk, other, 0, 1);
  return settleTowards(walk, { sets, left, right });
}

function settleTowards(walk: Walk, towards: Towards | null): number {
  const { first, next, queue, line, whole, recursion } = walk;
  const { start, older, weight, own } = recursion;
  let sum = 0;
  for (let level = walk.top; level >= 0; level--) {
    const from = first[level] as number;
    const to = next[level] as number;
    for (let q = from; q < to; q++) {
      const row = queue[q] as number;
      const ints = 8 * row;
      const left = line[4 * row] as number;
      const right = line[4 * row + 1] as number;
      const mark = whole[ints + MARK] as number;
      whole[ints + MARK] = mark ^ (IDLE | WAITS);
      if (left !== 0 && right !== 0) sum += left * right * (own[row] as number);
      const isRight = left === 0;
      const shape = (mark >> SHAPE_SHIFT) & 3;
      // a row of one older row has the same founders as that one
      if (shape === SHAPE.half) put(walk, whole[ints + OLDER] as number, 0.5 * left, 0.5 * right);
      else if (shape === SHAPE.halfAndAll) {
        const half = whole[ints + OLDER] as number;
        if (isFollowed(towards, half, isRight)) put(walk, half, 0.5 * left, 0.5 * right);
        const all = whole[ints + OLDER + 1] as number;
        if (isFollowed(towards, all, isRight)) put(walk, all, left, right);
      } else if (shape === SHAPE.any) {
        for (let k = start[row] as number; k < (start[row + 1] as number); k++) {
          if (!isFollowed(towards, older[k] as number, isRight)) continue;
          const w = weight[k] as number;
          put(walk, older[k] as number, w * left, w * right);
        }
      }
    }
    next[level] = from;
  }
  walk.top = -1;
  return sum;
}

/** Whether an older row of the right side (else of the left, or of both) may meet the other side. */
const isFollowed = (towards: Towards | null, row: number, isRight: boolean): boolean =>
  towards === null ||
  mayMeet(towards.sets.word, towards.sets.at[row] as number, isRight ? towards.left : towards.right);

/**
 * `A h` for a combination `h` over all rows: covariance of every x with Σ h_i x_i. Two sweeps, `(I−W)' z = h`, then `(I−W) v = D z`
 * (Colleau 2002, Genet Sel Evol 34:409, for the diploid case). O(size).
 * @param h one number a row; overwritten with the answer, which is also returned
 * @example covarianceWith(workedRecursion, Float64Array.of(0, 0, 1)) // [0.5, 0.5, 1]
 */
export function covarianceWith(recursion: Recursion, h: Float64Array): Float64Array {
  const { size, start, older, weight, own } = recursion;
  for (let i = size - 1; i >= 0; i--) {
    const z = h[i] as number;
    if (z === 0) continue;
    for (let k = start[i] as number; k < (start[i + 1] as number); k++) {
      const j = older[k] as number;
      h[j] = (h[j] as number) + (weight[k] as number) * z;
    }
  }
  for (let i = 0; i < size; i++) {
    let v = (h[i] as number) * (own[i] as number);
    for (let k = start[i] as number; k < (start[i + 1] as number); k++) {
      v += (weight[k] as number) * (h[older[k] as number] as number);
    }
    h[i] = v;
  }
  return h;
}
