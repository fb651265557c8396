/**
 * A symmetric matrix by blocks of vertices, on the pattern of its cliques: one dense block for each pair of vertices that share a clique. Pairs stand
 * under the vertex that is eliminated first; blocks have the rows of the other vertex and the columns of that one.
 */
import type { Supernodes } from './analyse.ts';
import type { Cliques } from './cliques.ts';

/** Blocks lie one after another in `values`, each row after row; `start` has `vertices` + 1 numbers, `block` one more than there are pairs. */
export type BlockMatrix = {
  readonly supernodes: Supernodes;
  /** Pairs of vertex v (as the first eliminated) are `start[v] … start[v+1]−1`; the first of them is v with itself. */
  readonly start: Int32Array;
  readonly other: Int32Array;
  /** Where each pair's block begins in `values`. */
  readonly block: Float64Array;
  readonly values: Float64Array;
};

/**
 * A matrix of zeros on the pattern of the cliques. Memory: 8 bytes a number of a pair's block; time: the square of each clique, sorted.
 * @example makeBlockMatrix(workedCliques, analyse(workedCliques)).values // [0, 0, 0]; two diagonal blocks and one between
 */
export function makeBlockMatrix(cliques: Cliques, supernodes: Supernodes): BlockMatrix {
  const { size, weight } = cliques;
  const { firstRow } = supernodes;
  const lists: number[][] = Array.from({ length: size }, (_, v) => [v]);
  for (let c = 0; c < cliques.count; c++) {
    const from = cliques.start[c] as number;
    const to = cliques.start[c + 1] as number;
    for (let a = from; a < to; a++) {
      for (let b = from; b < to; b++) {
        const v = cliques.member[a] as number;
        const w = cliques.member[b] as number;
        if ((firstRow[v] as number) < (firstRow[w] as number)) lists[v]?.push(w);
      }
    }
  }
  const start = new Int32Array(size + 1);
  const sorted = lists.map((list) => withoutDoubles(list, firstRow));
  sorted.forEach((list, v) => {
    start[v + 1] = (start[v] as number) + list.length;
  });
  const other = new Int32Array(start[size] as number);
  const block = new Float64Array((start[size] as number) + 1);
  let at = 0;
  sorted.forEach((list, v) => {
    for (const w of list) {
      other[at] = w;
      block[at + 1] = (block[at] as number) + (weight[v] as number) * (weight[w] as number);
      at++;
    }
  });
  return { supernodes, start, other, block, values: new Float64Array(block[at] as number) };
}

function withoutDoubles(list: number[], firstRow: Int32Array): number[] {
  list.sort((a, b) => (firstRow[a] as number) - (firstRow[b] as number));
  return list.filter((v, k) => k === 0 || v !== list[k - 1]);
}

/**
 * Where the block of v and w begins in `values`, and whether its rows are v's (else w's); −1 when the pair is not in the pattern.
 * @example blockOf(workedMatrix(), 0, 1) // { at: 2, rowsOfFirst: true }
 */
export function blockOf(matrix: BlockMatrix, v: number, w: number): { at: number; rowsOfFirst: boolean } {
  const { firstRow } = matrix.supernodes;
  const vFirst = (firstRow[v] as number) <= (firstRow[w] as number);
  const column = vFirst ? v : w;
  const sought = firstRow[vFirst ? w : v] as number;
  let low = matrix.start[column] as number;
  let high = (matrix.start[column + 1] as number) - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const here = firstRow[matrix.other[middle] as number] as number;
    if (here === sought) return { at: matrix.block[middle] as number, rowsOfFirst: !vFirst || v === w };
    if (here < sought) low = middle + 1;
    else high = middle - 1;
  }
  return { at: -1, rowsOfFirst: false };
}

/**
 * Adds `value` at row i of vertex v and column j of vertex w (once: the mirror image is meant too). Throws when the pair is not in the pattern.
 * @example const matrix = workedMatrix(); addAt(matrix, [0, 0], [1, 0], 2.5); matrix.values // [4, 3, 3.5]
 */
export function addAt(
  matrix: BlockMatrix,
  [v, i]: readonly [number, number],
  [w, j]: readonly [number, number],
  value: number,
): void {
  const { at, rowsOfFirst } = blockOf(matrix, v, w);
  if (at < 0) throw new RangeError(`pair ${v}, ${w} is not in the pattern`);
  const { weight } = matrix.supernodes;
  const place = rowsOfFirst ? at + i * (weight[w] as number) + j : at + j * (weight[v] as number) + i;
  matrix.values[place] = (matrix.values[place] as number) + value;
}
