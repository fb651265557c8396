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
 * Workspace of {@link settle}: rows waiting in one linked list per level, so the youngest are always taken first without a heap. What belongs to a
 * row lies side by side, because walks jump about and every array touched is another line of the cache.
 */
export type Walk = {
  readonly recursion: Recursion;
  readonly head: Int32Array;
  /** Next row in the list of the same level, END at its end, IDLE for a row that does not wait. */
  readonly next: Int32Array;
  /** Parts of the two combinations at each row: left at 2i, right at 2i + 1. */
  readonly part: Float64Array;
  top: number;
};

const END = -1;
const IDLE = -2;

/** A workspace for walks up `recursion`, which may still be filling: rows must be filled before a walk reaches them. */
export function makeWalk(recursion: Recursion, levels = depthOf(recursion)): Walk {
  return {
    recursion,
    head: new Int32Array(levels).fill(END),
    next: new Int32Array(recursion.size).fill(IDLE),
    part: new Float64Array(2 * recursion.size),
    top: -1,
  };
}

/** Adds `left` and `right` to the two combinations a walk compares, at `row`. */
export function seed(walk: Walk, row: number, left: number, right: number): void {
  const { next, part } = walk;
  if (next[row] === IDLE) {
    const level = walk.recursion.level[row] as number;
    next[row] = walk.head[level] as number;
    walk.head[level] = row;
    if (level > walk.top) walk.top = level;
  }
  part[2 * row] = (part[2 * row] as number) + left;
  part[2 * row + 1] = (part[2 * row + 1] as number) + right;
}

/**
 * Covariance of the two seeded combinations, `l' A r = Σ (T'l)_i (T'r)_i own_i`, visiting only their older neighbours.
 * The workspace is clean again afterwards. Exactly 0 when the two share no older row.
 */
export function settle(walk: Walk): number {
  const { head, next, part } = walk;
  const { start, older, weight, own } = walk.recursion;
  let sum = 0;
  for (let level = walk.top; level >= 0; level--) {
    let row = head[level] as number;
    while (row >= 0) {
      const left = part[2 * row] as number;
      const right = part[2 * row + 1] as number;
      if (left !== 0 && right !== 0) sum += left * right * (own[row] as number);
      const stop = start[row + 1] as number;
      for (let k = start[row] as number; k < stop; k++) {
        const w = weight[k] as number;
        seed(walk, older[k] as number, w * left, w * right);
      }
      part[2 * row] = 0;
      part[2 * row + 1] = 0;
      const following = next[row] as number;
      next[row] = IDLE;
      row = following;
    }
    head[level] = END;
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
