import { describe, expect, test } from 'vitest';
import { choleskyInPlace, inverseOf, logDeterminant } from '../dense/small-matrix.ts';
import { randomStream } from '../random/random-stream.ts';
import { analyse } from './analyse.ts';
import { addAt, type BlockMatrix, makeBlockMatrix } from './block-matrix.ts';
import type { Cliques } from './cliques.ts';
import { inverseAt, selectedInverse } from './selected-inverse.ts';
import { factorSupernodes, makeFactorKernels, solveSupernodes } from './supernodal-factor.ts';

type Example = { cliques: Cliques; matrix: BlockMatrix; dense: Float64Array; n: number; pairs: Set<string> };

/** A sum of random positive semidefinite cliques plus a ridge, sparse and dense, both in the order of elimination. */
function example(seed: number, size: number, members: number): Example {
  const random = randomStream(seed);
  const weight = Int32Array.from({ length: size }, () => 1 + random.below(4));
  const lists = Array.from({ length: size * 2 }, () => {
    const near = random.below(size);
    return [...new Set(Array.from({ length: 1 + random.below(members) }, () => (near + random.below(8)) % size))];
  });
  const start = [0];
  for (const list of lists) start.push((start.at(-1) ?? 0) + list.length);
  const cliques = {
    size,
    weight,
    count: lists.length,
    start: Int32Array.from(start),
    member: Int32Array.from(lists.flat()),
  };
  const supernodes = analyse(cliques);
  const matrix = makeBlockMatrix(cliques, supernodes);
  const n = supernodes.rows;
  const dense = new Float64Array(n * n);
  const pairs = new Set<string>();
  const put = (v: number, i: number, w: number, j: number, value: number) => {
    const a = (supernodes.firstRow[v] ?? 0) + i;
    const b = (supernodes.firstRow[w] ?? 0) + j;
    dense[a * n + b] = (dense[a * n + b] ?? 0) + value;
    if (v === w || (supernodes.firstRow[v] ?? 0) > (supernodes.firstRow[w] ?? 0)) addAt(matrix, [v, i], [w, j], value);
    pairs.add(`${a} ${b}`);
  };
  for (const list of lists) {
    const rows = list.flatMap((v) =>
      Array.from({ length: weight[v] ?? 0 }, (_, i) => [v, i, random.normal()] as const),
    );
    for (const [v, i, x] of rows) for (const [w, j, y] of rows) put(v, i, w, j, x * y);
  }
  for (let v = 0; v < size; v++) for (let i = 0; i < (weight[v] ?? 0); i++) put(v, i, v, i, 0.5);
  return { cliques, matrix, dense, n, pairs };
}

// Oracle: dense algebra of numeric/dense.
describe.each([
  [1, 1, 1],
  [2, 12, 3],
  [3, 60, 3],
  [4, 60, 6],
  [5, 200, 4],
])('example %d: %d vertices', (seed, size, members) => {
  const { matrix, dense, n, pairs } = example(seed, size, members);
  const kernels = makeFactorKernels(matrix.supernodes);
  test('solutions, determinant', () => {
    const factor = factorSupernodes(matrix, kernels);
    const l = dense.slice();
    expect(choleskyInPlace(l, n)).toBe(true);
    expect(factor.logDeterminant).toBeCloseTo(logDeterminant(l, n), 8);
    expect(factor.dependent).toEqual([]);
    const b = Float64Array.from({ length: n }, (_, i) => Math.sin(i));
    const x = solveSupernodes(factor, b.slice());
    for (let i = 0; i < n; i++)
      expect(x.reduce((sum, v, j) => sum + v * (dense[i * n + j] ?? 0), 0)).toBeCloseTo(b[i] ?? 9, 9);
  });
  test('every entry of the inverse in the pattern', () => {
    const inverse = selectedInverse(factorSupernodes(matrix, kernels));
    const exact = inverseOf(dense, n) as Float64Array;
    for (const pair of pairs) {
      const [i = 0, j = 0] = pair.split(' ').map(Number);
      expect(Math.abs(inverseAt(inverse, i, j) - (exact[i * n + j] ?? 9e9)), pair).toBeLessThan(1e-9);
    }
  });
});

test('a row that depends on others is found, and its unknown is 0', () => {
  const cliques = {
    size: 3,
    weight: Int32Array.of(1, 1, 1),
    count: 1,
    start: Int32Array.of(0, 3),
    member: Int32Array.of(0, 1, 2),
  };
  const matrix = makeBlockMatrix(cliques, analyse(cliques));
  // rows 0 and 1 are the two levels of one factor, row 2 their sum: x = (a, b, a + b)
  const rows = [
    [1, 0, 1],
    [0, 1, 1],
  ];
  for (const row of rows)
    for (let i = 0; i < 3; i++)
      for (let j = 0; j < 3; j++) {
        const { firstRow } = matrix.supernodes;
        if ((firstRow[i] ?? 0) >= (firstRow[j] ?? 0)) addAt(matrix, [i, 0], [j, 0], (row[i] ?? 0) * (row[j] ?? 0));
      }
  const factor = factorSupernodes(matrix, makeFactorKernels(matrix.supernodes));
  expect(factor.dependent).toHaveLength(1);
  const rhs = Float64Array.from({ length: 3 });
  for (const v of [0, 1, 2]) rhs[matrix.supernodes.firstRow[v] ?? 0] = [2, 5, 7][v] ?? 0;
  const x = solveSupernodes(factor, rhs);
  expect(Math.abs(x[factor.dependent[0] ?? 0] ?? 9)).toBeLessThan(1e-90);
});

test('a wide matrix is cut into panels and factored all the same', () => {
  const size = 700;
  const member = Int32Array.from({ length: size }, (_, i) => i);
  const cliques = { size, weight: new Int32Array(size).fill(1), count: 1, start: Int32Array.of(0, size), member };
  const supernodes = analyse(cliques);
  expect(supernodes.count).toBeGreaterThan(2);
  const matrix = makeBlockMatrix(cliques, supernodes);
  for (let i = 0; i < size; i++)
    for (let j = 0; j <= i; j++) {
      const [a, b] = (supernodes.firstRow[i] ?? 0) >= (supernodes.firstRow[j] ?? 0) ? [i, j] : [j, i];
      addAt(matrix, [a, 0], [b, 0], i === j ? 2 : 1);
    }
  const kernels = makeFactorKernels(supernodes);
  const factor = factorSupernodes(matrix, kernels);
  expect(factor.logDeterminant).toBeCloseTo(Math.log(size + 1), 8); // det(I + 11') = 1 + n
  const inverse = selectedInverse(factor);
  expect(inverseAt(inverse, 3, 3)).toBeCloseTo(1 - 1 / (size + 1), 9);
  expect(inverseAt(inverse, 499, 2)).toBeCloseTo(-1 / (size + 1), 9);
});
