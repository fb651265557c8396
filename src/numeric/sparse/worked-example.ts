/** The matrix that the examples of this folder speak of: (4 1; 1 3), one row a vertex, both vertices in one clique. Its determinant is 11. */
import { analyse } from './analyse.ts';
import { addAt, type BlockMatrix, makeBlockMatrix } from './block-matrix.ts';
import type { Cliques } from './cliques.ts';

/** Two vertices of one row each that meet in one clique. */
export const workedCliques: Cliques = {
  size: 2,
  weight: Int32Array.of(1, 1),
  count: 1,
  start: Int32Array.of(0, 2),
  member: Int32Array.of(0, 1),
};

/**
 * The matrix itself, with its supernodes.
 * @example workedMatrix().values.length // 3
 */
export function workedMatrix(): BlockMatrix {
  const matrix = makeBlockMatrix(workedCliques, analyse(workedCliques));
  addAt(matrix, [0, 0], [0, 0], 4);
  addAt(matrix, [1, 0], [1, 0], 3);
  addAt(matrix, [0, 0], [1, 0], 1);
  return matrix;
}
