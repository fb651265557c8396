/**
 * The entries of the inverse that lie in the pattern of the factor (Takahashi, Fagan and Chin 1973; Erisman and Tinney 1975, Commun ACM 18:177), by
 * supernodes from the last to the first: with Y = L_RS L_SS⁻¹, `Z_RS = −Z_RR Y` and `Z_SS = (L_SS L_SS')⁻¹ − Y' Z_RS`. The inverse takes the place of
 * the factor in the heap.
 */
import type { DenseKernels } from '../kernels/dense-kernels.ts';
import type { Supernodes } from './analyse.ts';
import { largestOf, pickedAt, type SupernodalFactor } from './supernodal-factor.ts';

/** Entries of an inverse on the pattern of a factor. */
export type SelectedInverse = { readonly supernodes: Supernodes; readonly heap: Float64Array };

type Work = {
  supernodes: Supernodes;
  kernels: DenseKernels;
  local: Int32Array;
  y: number;
  piece: number;
  picked: number;
};

/**
 * Turns a factor into the selected inverse, in its own heap. The factor is gone afterwards. Time: of the order of the factorisation.
 * @example const matrix = workedMatrix(); const at = matrix.supernodes.firstRow;
 * const inverse = selectedInverse(factorSupernodes(matrix, makeFactorKernels(matrix.supernodes)));
 * inverseAt(inverse, at[0], at[0]) // 3 / 11
 */
export function selectedInverse({ supernodes, kernels }: SupernodalFactor): SelectedInverse {
  const { panel } = largestOf(supernodes);
  const y = supernodes.doubles;
  const work: Work = {
    supernodes,
    kernels,
    local: new Int32Array(supernodes.rows),
    y,
    piece: y + panel,
    picked: pickedAt(supernodes),
  };
  for (let s = supernodes.count - 1; s >= 0; s--) invertPanel(work, s);
  return { supernodes, heap: kernels.heap };
}

function invertPanel(work: Work, s: number): void {
  const { supernodes, kernels, y } = work;
  const { heap } = kernels;
  const { columnStart, rowStart, panel } = supernodes;
  const width = (columnStart[s + 1] as number) - (columnStart[s] as number);
  const below = (rowStart[s + 1] as number) - (rowStart[s] as number) - width;
  const at = panel[s] as number;
  const own = { at, ld: width };
  if (below > 0) {
    const rest = at + width * width;
    heap.copyWithin(y, rest, rest + below * width);
    kernels.solveRightPlain(below, width, own, { at: y, ld: width });
    heap.fill(0, rest, rest + below * width);
    multiplyByInverse(work, s, { width, below });
  }
  // Y is needed below once more, so (L L')⁻¹ is made in the piece and copied home
  kernels.invertFactor(width, own, { at: work.piece, ld: width });
  heap.copyWithin(at, work.piece, work.piece + width * width);
  if (below === 0) return;
  const shape = { m: width, n: width, k: below };
  kernels.addTransposed(shape, { at: y, ld: width }, { at: at + width * width, ld: width }, own);
  negate(heap, at + width * width, below * width);
  mirror(heap, width, at);
}

function negate(heap: Float64Array, at: number, length: number): void {
  for (let k = at; k < at + length; k++) heap[k] = -(heap[k] as number);
}

/** Takes the mean of the two triangles, which differ by rounding. */
function mirror(heap: Float64Array, width: number, at: number): void {
  for (let i = 0; i < width; i++) {
    for (let j = 0; j < i; j++) {
      const value = 0.5 * ((heap[at + i * width + j] as number) + (heap[at + j * width + i] as number));
      heap[at + i * width + j] = value;
      heap[at + j * width + i] = value;
    }
  }
}

/** Adds Z_RR Y to the panel below s: R cut by the supernodes its rows belong to, each piece of Z gathered from that supernode's panel. */
function multiplyByInverse(work: Work, s: number, { width, below }: { width: number; below: number }): void {
  const { supernodes, kernels, local, y, piece } = work;
  const { integers } = kernels;
  const { columnStart, rowStart, row, panel, ofColumn } = supernodes;
  const rows = work.picked;
  const first = (rowStart[s] as number) + width;
  const rest = (panel[s] as number) + width * width;
  let from = 0;
  while (from < below) {
    const a = ofColumn[row[first + from] as number] as number;
    const end = columnStart[a + 1] as number;
    let to = from;
    while (to < below && (row[first + to] as number) < end) to++;
    const wide = (columnStart[a + 1] as number) - (columnStart[a] as number);
    const high = (rowStart[a + 1] as number) - (rowStart[a] as number);
    for (let k = 0; k < high; k++) local[row[(rowStart[a] as number) + k] as number] = k;
    const n = to - from;
    const m = below - from;
    for (let i = 0; i < m; i++) integers[rows + i] = local[row[first + from + i] as number] as number;
    const columns = rows + m;
    for (let j = 0; j < n; j++) integers[columns + j] = (row[first + from + j] as number) - (columnStart[a] as number);
    kernels.gather({ m, n, rows, columns }, piece, { at: panel[a] as number, ld: wide });
    const z = { at: piece, ld: n };
    kernels.addProduct(
      { m, n: width, k: n },
      z,
      { at: y + from * width, ld: width },
      { at: rest + from * width, ld: width },
    );
    if (m > n) {
      const lower = { at: piece + n * n, ld: n };
      kernels.addTransposed(
        { m: n, n: width, k: m - n },
        lower,
        { at: y + to * width, ld: width },
        { at: rest + from * width, ld: width },
      );
    }
    from = to;
  }
}

/**
 * Element of the inverse at two rows (in the order of elimination) that share a column of the factor; NaN when they do not.
 * @example const matrix = workedMatrix(); const at = matrix.supernodes.firstRow;
 * const inverse = selectedInverse(factorSupernodes(matrix, makeFactorKernels(matrix.supernodes)));
 * inverseAt(inverse, at[0], at[1]) // -1 / 11
 */
export function inverseAt({ supernodes, heap }: SelectedInverse, i: number, j: number): number {
  const { ofColumn, columnStart, rowStart, panel } = supernodes;
  const column = Math.min(i, j);
  const s = ofColumn[column] as number;
  const place = placeInRows(supernodes, s, Math.max(i, j));
  if (place < 0) return Number.NaN;
  const width = (columnStart[s + 1] as number) - (columnStart[s] as number);
  return heap[
    (panel[s] as number) + (place - (rowStart[s] as number)) * width + column - (columnStart[s] as number)
  ] as number;
}

/**
 * The block of two vertices into `out` (`weight[v] × weight[w]`, row after row); all NaN where they share no column of the factor.
 * @example const matrix = workedMatrix(); const block = new Float64Array(1);
 * inverseBlock(selectedInverse(factorSupernodes(matrix, makeFactorKernels(matrix.supernodes))), 1, 1, block);
 * block // [4 / 11]
 */
export function inverseBlock(inverse: SelectedInverse, v: number, w: number, out: Float64Array): void {
  const { supernodes, heap } = inverse;
  const { firstRow, weight, ofColumn, columnStart, rowStart, panel } = supernodes;
  const vFirst = (firstRow[v] as number) <= (firstRow[w] as number);
  const [column, other] = vFirst ? [v, w] : [w, v];
  const high = weight[v] as number;
  const wide = weight[w] as number;
  const s = ofColumn[firstRow[column] as number] as number;
  const row = placeInRows(supernodes, s, firstRow[other] as number);
  if (row < 0) {
    out.fill(Number.NaN, 0, high * wide);
    return;
  }
  const width = (columnStart[s + 1] as number) - (columnStart[s] as number);
  const corner =
    (panel[s] as number) +
    (row - (rowStart[s] as number)) * width +
    (firstRow[column] as number) -
    (columnStart[s] as number);
  for (let i = 0; i < high; i++) {
    for (let j = 0; j < wide; j++)
      out[i * wide + j] = heap[vFirst ? corner + j * width + i : corner + i * width + j] as number;
  }
}

/** Index in `row` of a row of supernode s, or −1. */
function placeInRows({ rowStart, row }: Supernodes, s: number, sought: number): number {
  let low = rowStart[s] as number;
  let high = (rowStart[s + 1] as number) - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const here = row[middle] as number;
    if (here === sought) return middle;
    if (here < sought) low = middle + 1;
    else high = middle - 1;
  }
  return -1;
}
