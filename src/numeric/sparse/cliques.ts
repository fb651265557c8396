/**
 * Structure of a symmetric matrix as a sum of small dense pieces: each clique is a set of vertices all coupled with one another. A vertex may stand
 * for several rows (`weight`). Clique c is `member[start[c] … start[c+1]−1]`, each vertex once; `size` vertices, `count` cliques.
 */
export type Cliques = {
  readonly size: number;
  /** Rows of the matrix each vertex stands for. */
  readonly weight: Int32Array;
  readonly count: number;
  readonly start: Int32Array;
  readonly member: Int32Array;
};
