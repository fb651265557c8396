import type { Recursion } from './recursion.ts';

/**
 * A recursion without the rows whose own variance is (nearly) 0: those are exact combinations of older rows and are replaced by
 * them, so that the covariance matrix of what is left can be inverted.
 */
export type PositivePart = {
  /** Rows with own variance above the threshold, in the same order. */
  readonly recursion: Recursion;
  /** Row of the full recursion each kept row was. */
  readonly from: Int32Array;
  /** Every row of the full recursion as a combination of kept rows: terms `start[i] … start[i+1]−1`. A kept row is itself with weight 1. */
  readonly start: Int32Array;
  readonly row: Int32Array;
  readonly weight: Float64Array;
};

/** Own variances at or below this are taken as 0. */
export const NO_VARIANCE = 1e-8;

type Terms = Map<number, number>;

const addTo = (terms: Terms, row: number, weight: number): void => {
  terms.set(row, (terms.get(row) ?? 0) + weight);
};

/**
 * Replaces the rows without variance of their own: x_i = Σ weight · x_older goes into every row that names x_i. O(size) when there are none, and
 * then the recursion is the given one, not a copy.
 * @param least own variances at or below this are taken as 0
 * @example positivePart({ ...workedRecursion, own: Float64Array.of(1, 0.5, 0) }) // { from: [0, 1], start: [0, 1, 2, 4], weight: [1, 1, 0.5, 1] }; x₂ = ½x₀ + x₁
 */
export function positivePart(full: Recursion, least = NO_VARIANCE): PositivePart {
  const kept = new Int32Array(full.size).fill(-1);
  let size = 0;
  for (let i = 0; i < full.size; i++) if ((full.own[i] as number) > least) kept[i] = size++;
  if (size === full.size) return unchanged(full);
  const replaced = new Map<number, Terms>();
  const termsOf = (i: number): Terms => {
    const terms: Terms = new Map();
    for (let k = full.start[i] as number; k < (full.start[i + 1] as number); k++) {
      const older = full.older[k] as number;
      const weight = full.weight[k] as number;
      if (kept[older] !== -1) addTo(terms, kept[older] as number, weight);
      else for (const [row, w] of replaced.get(older) ?? []) addTo(terms, row, weight * w);
    }
    return terms;
  };
  const rows: Terms[] = [];
  for (let i = 0; i < full.size; i++) {
    const terms = termsOf(i);
    if (kept[i] === -1) replaced.set(i, terms);
    else rows.push(terms);
  }
  const recursion = packed(rows, Float64Array.from(full.own.filter((own) => own > least)));
  const expressed = Array.from(
    { length: full.size },
    (_, i): Terms => replaced.get(i) ?? new Map([[kept[i] as number, 1]]),
  );
  const { start, older, weight } = packed(expressed, new Float64Array(full.size));
  const from = Int32Array.from(kept.keys()).filter((i) => kept[i] !== -1);
  return { recursion, from, start, row: older, weight };
}

function unchanged(full: Recursion): PositivePart {
  const from = Int32Array.from({ length: full.size }, (_, i) => i);
  const start = Int32Array.from({ length: full.size + 1 }, (_, i) => i);
  return { recursion: full, from, start, row: from, weight: new Float64Array(full.size).fill(1) };
}

/** Rows of terms in compressed form; levels are worked out again. */
function packed(rows: readonly Terms[], own: Float64Array): Recursion {
  const start = new Int32Array(rows.length + 1);
  rows.forEach((terms, i) => {
    start[i + 1] = (start[i] as number) + terms.size;
  });
  const total = start[rows.length] as number;
  const older = new Int32Array(total);
  const weight = new Float64Array(total);
  const level = new Int32Array(rows.length);
  let at = 0;
  rows.forEach((terms, i) => {
    for (const [row, w] of terms) {
      older[at] = row;
      weight[at++] = w;
      level[i] = Math.max(level[i] as number, 1 + (level[row] ?? 0));
    }
  });
  return { size: rows.length, start, older, weight, own, level };
}
