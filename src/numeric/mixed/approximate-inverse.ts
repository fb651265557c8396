/**
 * The inverse of the equations of the nodes, approximately, wherever the incomplete factor has a block: the recursion of Takahashi, Fagan and Chin
 * (1973) on that factor, oldest node first. A block it needs that the pattern lacks is worked out one step further down the recursion.
 */
import type { BlockFactor } from './block-factor.ts';
import { placeOf } from './block-pattern.ts';
import type { SmoothCorrection } from './smooth-correction.ts';

/** Diagonal blocks (`nodes × q × q`) and the blocks of the factor's pattern (rows of the younger node, columns of the older). */
export type ApproximateInverse = {
  readonly factor: BlockFactor;
  readonly own: Float64Array;
  readonly pair: Float64Array;
  readonly scratch: { readonly sum: Float64Array; readonly step: Float64Array };
};

/** An approximate inverse with what it misses in the smooth directions. */
export type CorrectedInverse = { readonly inverse: ApproximateInverse; readonly correction: SmoothCorrection };

/**
 * The approximate inverse from an incomplete factor. Memory: one block a node and a pair of the pattern; time: q³ for each two
 * older neighbours of a node.
 * The recursion is that of Takahashi and others (1973) on the incomplete factor, couplings outside its pattern counted as 0.
 * @example approximateInverse(blockFactor(workedSystem)).own[0] // 22 / 35; first row of the inverse of (11 −4; −4 11) / 6
 */
export function approximateInverse(factor: BlockFactor): ApproximateInverse {
  const { pattern, effects: q, pivot, coupling } = factor;
  const size = q * q;
  const inverse: ApproximateInverse = {
    factor,
    own: new Float64Array(pattern.size * size),
    pair: new Float64Array(coupling.length),
    scratch: { sum: new Float64Array(size), step: new Float64Array(size) },
  };
  const block = new Float64Array(size);
  for (let i = 0; i < pattern.size; i++) {
    const from = pattern.start[i] as number;
    const to = pattern.start[i + 1] as number;
    // Z_ij = −Σ_k X_ik Z_kj for the older neighbours j of i
    for (let e = from; e < to; e++) {
      for (let k = from; k < to; k++) {
        approximateBlock(inverse, pattern.older[k] as number, pattern.older[e] as number, block);
        subtractProduct(inverse.pair, e * size, coupling, k * size, block, q);
      }
    }
    // Z_ii = P_i⁻¹ − Σ_k X_ik Z_ki
    for (let k = 0; k < size; k++) inverse.own[i * size + k] = pivot[i * size + k] as number;
    for (let e = from; e < to; e++) {
      for (let a = 0; a < q; a++)
        for (let b = 0; b < q; b++) block[a * q + b] = inverse.pair[e * size + b * q + a] as number;
      subtractProduct(inverse.own, i * size, coupling, e * size, block, q);
    }
  }
  return inverse;
}

/** out[at] −= A[from] B. */
function subtractProduct(
  out: Float64Array,
  at: number,
  a: Float64Array,
  from: number,
  b: Float64Array,
  q: number,
): void {
  for (let i = 0; i < q; i++) {
    for (let j = 0; j < q; j++) {
      let sum = 0;
      for (let k = 0; k < q; k++) sum += (a[from + i * q + k] as number) * (b[k * q + j] as number);
      out[at + i * q + j] = (out[at + i * q + j] as number) - sum;
    }
  }
}

/**
 * Writes the block of nodes v and w into `out` (`q × q`, rows of v, columns of w): from the pattern, or by one step of the recursion through the
 * younger one's neighbours, of which those the pattern does not couple with the older one count as 0.
 * @example const block = new Float64Array(4);
 * approximateBlock(approximateInverse(blockFactor(workedSystem)), 0, 1, block);
 * block[0] // 8 / 35
 */
export function approximateBlock(inverse: ApproximateInverse, v: number, w: number, out: Float64Array): void {
  if (knownBlock(inverse, v, w, out)) return;
  const { pattern, effects: q, coupling } = inverse.factor;
  const size = q * q;
  const younger = Math.max(v, w);
  const older = Math.min(v, w);
  const { sum, step } = inverse.scratch;
  sum.fill(0);
  for (let k = pattern.start[younger] as number; k < (pattern.start[younger + 1] as number); k++) {
    if (knownBlock(inverse, pattern.older[k] as number, older, step))
      subtractProduct(sum, 0, coupling, k * size, step, q);
  }
  for (let i = 0; i < q; i++) {
    for (let j = 0; j < q; j++) out[i * q + j] = sum[v === younger ? i * q + j : j * q + i] as number;
  }
}

function knownBlock({ factor, own, pair }: ApproximateInverse, v: number, w: number, out: Float64Array): boolean {
  const q = factor.effects;
  const size = q * q;
  if (v === w) {
    for (let k = 0; k < size; k++) out[k] = own[v * size + k] as number;
    return true;
  }
  const place = placeOf(factor.pattern, Math.max(v, w), Math.min(v, w));
  if (place < 0) return false;
  for (let i = 0; i < q; i++) {
    for (let j = 0; j < q; j++) out[i * q + j] = pair[place * size + (v > w ? i * q + j : j * q + i)] as number;
  }
  return true;
}
