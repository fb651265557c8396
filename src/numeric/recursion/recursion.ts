/**
 * Linear recursion: `x_i = Σ weight · x_older + e_i`, every `older` < i, the `e_i` independent with variance `own_i`.
 *
 * The covariance matrix of all x is then `A = T D T'` with T the inverse of (I − W) and D diagonal, and
 * `A⁻¹ = (I − W)' D⁻¹ (I − W)`. Nothing here forms A: a quadratic or bilinear form is a walk up the older neighbours
 * (Meuwissen and Luo 1992, Genet Sel Evol 24:305, give the walk for a diagonal element), a column is two sweeps.
 */

/** Rows 0 … size−1 in compressed form: row i has the terms `start[i] … start[i+1]−1`. */
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

/** Highest level of a recursion plus one; 1 for an empty one. */
export function depthOf(recursion: Recursion): number {
  let highest = 0;
  for (let i = 0; i < recursion.size; i++) highest = Math.max(highest, recursion.level[i] as number);
  return highest + 1;
}

/**
 * Workspace of {@link settle}: rows waiting in one queue per level, so the youngest are always taken first without a heap. Walks jump about, so everything
 * a visit needs of a row lies in 64 bytes of its own (one line of the cache), copied from the recursion when a walk first comes by; queues, not linked
 * lists, so that the lines of several waiting rows are fetched at the same time.
 */
export type Walk = {
  readonly recursion: Recursion;
  /** Where the queue of each level begins in `queue`, and how many rows wait in it. */
  readonly first: Int32Array;
  readonly waiting: Int32Array;
  readonly queue: Int32Array;
  /** Eight doubles a row: left and right part of the two combinations, weights of the first two older rows, then the integers below. */
  readonly line: Float64Array;
  /** The same memory as 16 integers a row: two older rows, level, how many older rows, where they stand in the recursion, and its state. */
  readonly whole: Int32Array;
  top: number;
};

const OLDER = 8;
const LEVEL = 10;
const TERMS = 11;
const FROM = 12;
const STATE = 13;
/** 0 is a row no walk has come by. */
const IDLE = 1;
const WAITS = 2;

/** A workspace for walks up `recursion`, whose own variances may still be filling: rows must be filled before a walk reaches them. */
export function makeWalk(recursion: Recursion, levels = depthOf(recursion)): Walk {
  const first = new Int32Array(levels + 1);
  for (let i = 0; i < recursion.size; i++) {
    const level = recursion.level[i] as number;
    first[level + 1] = (first[level + 1] as number) + 1;
  }
  for (let level = 0; level < levels; level++)
    first[level + 1] = (first[level + 1] as number) + (first[level] as number);
  const line = new Float64Array(8 * recursion.size);
  return {
    recursion,
    first,
    waiting: new Int32Array(levels),
    queue: new Int32Array(recursion.size),
    line,
    whole: new Int32Array(line.buffer),
    top: -1,
  };
}

/** Copies what does not change of a row into its line. */
function copyRow({ recursion, line, whole }: Walk, row: number): void {
  const { start, older, weight, level } = recursion;
  const from = start[row] as number;
  const terms = (start[row + 1] as number) - from;
  const at = 16 * row;
  for (let k = 0; k < Math.min(2, terms); k++) {
    line[8 * row + 2 + k] = weight[from + k] as number;
    whole[at + OLDER + k] = older[from + k] as number;
  }
  whole[at + LEVEL] = level[row] as number;
  whole[at + TERMS] = terms;
  whole[at + FROM] = from;
  whole[at + STATE] = IDLE;
}

/** Adds `left` and `right` to the two combinations a walk compares, at `row`. */
export function seed(walk: Walk, row: number, left: number, right: number): void {
  const { line, whole } = walk;
  const ints = 16 * row;
  if (whole[ints + STATE] !== WAITS) {
    if (whole[ints + STATE] !== IDLE) copyRow(walk, row);
    const level = whole[ints + LEVEL] as number;
    const place = walk.waiting[level] as number;
    walk.queue[(walk.first[level] as number) + place] = row;
    walk.waiting[level] = place + 1;
    whole[ints + STATE] = WAITS;
    if (level > walk.top) walk.top = level;
  }
  const at = 8 * row;
  line[at] = (line[at] as number) + left;
  line[at + 1] = (line[at + 1] as number) + right;
}

/**
 * Covariance of the two seeded combinations, `l' A r = Σ (T'l)_i (T'r)_i own_i`, visiting only their older neighbours.
 * The workspace is clean again afterwards. Exactly 0 when the two share no older row.
 */
export function settle(walk: Walk): number {
  const { first, waiting, queue, line, whole, recursion } = walk;
  const { older, weight, own } = recursion;
  let sum = 0;
  for (let level = walk.top; level >= 0; level--) {
    const from = first[level] as number;
    const to = from + (waiting[level] as number);
    for (let q = from; q < to; q++) {
      const row = queue[q] as number;
      const at = 8 * row;
      const ints = 16 * row;
      const left = line[at] as number;
      const right = line[at + 1] as number;
      if (left !== 0 && right !== 0) sum += left * right * (own[row] as number);
      const terms = whole[ints + TERMS] as number;
      if (terms > 0) {
        const w = line[at + 2] as number;
        seed(walk, whole[ints + OLDER] as number, w * left, w * right);
      }
      if (terms > 1) {
        const w = line[at + 3] as number;
        seed(walk, whole[ints + OLDER + 1] as number, w * left, w * right);
      }
      const start = whole[ints + FROM] as number;
      for (let k = start + 2; k < start + terms; k++) {
        const w = weight[k] as number;
        seed(walk, older[k] as number, w * left, w * right);
      }
      line[at] = 0;
      line[at + 1] = 0;
      whole[ints + STATE] = IDLE;
    }
    waiting[level] = 0;
  }
  walk.top = -1;
  return sum;
}

/**
 * `A h` for a combination `h` over all rows: covariance of every x with Σ h_i x_i. Two sweeps, `(I−W)' z = h`, then `(I−W) v = D z`
 * (Colleau 2002, Genet Sel Evol 34:409, for the diploid case). O(size).
 * @param h one number a row; overwritten with the answer, which is also returned
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
