/**
 * The few dense operations sparse factorisation stands on, over matrices that lie in one heap of doubles: row after row, `lda` doubles apart; offsets
 * count doubles. Compiled ones live beside this file; these are their plain twins, the oracle in tests and the fallback.
 */
import { startMachine } from './load.ts';

/**
 * The operations on one heap; all work in place, allocate nothing and check nothing. Sizes and places: {@link Shape}, {@link Place}, {@link Picked}.
 */
export type DenseKernels = {
  readonly heap: Float64Array;
  /** The heap as 32-bit integers, two for each double, for {@link Picked}. */
  readonly integers: Int32Array;
  /** C −= A B', A m×k, B n×k, C m×n. */
  subtractOuter(shape: Shape, a: Place, b: Place, c: Place): void;
  /** C −= A B', A m×k, B its first n rows, C m×n: of its first n rows columns up to their own (and at most three more) are worked out. */
  subtractSymmetric(shape: Shape, a: Place, c: Place): void;
  /** C += A B, A m×k, B k×n, C m×n. */
  addProduct(shape: Shape, a: Place, b: Place, c: Place): void;
  /** C += A' B, A k×m, B k×n, C m×n. */
  addTransposed(shape: Shape, a: Place, b: Place, c: Place): void;
  /**
   * Lower Cholesky factor in place of the n × n matrix at `a`. `least` is where in the heap n thresholds stand: a pivot at or below its own stands
   * for a dependent column and is replaced by {@link DEPENDENT}, which makes the column vanish. Answers how many were.
   */
  factor(n: number, a: Place, least: number): number;
  /** B := B L'⁻¹, L n×n lower, B m×n. */
  solveRight(m: number, n: number, l: Place, b: Place): void;
  /** B := B L⁻¹, L n×n lower, B m×n. */
  solveRightPlain(m: number, n: number, l: Place, b: Place): void;
  /** (L L')⁻¹, both triangles, into `out` (n × n, may not overlap L, which is spoilt). */
  invertFactor(n: number, l: Place, out: Place): void;
  /** C[rows, columns] += A, A m×n without gaps at `a`. */
  scatterAdd(picked: Picked, a: number, c: Place): void;
  /**
   * C[rows, columns] −= A B', A m×k, B its first n rows, k ≤ {@link NARROW}: of the first n rows of A only columns up to their own (and at most one
   * more) are worked out.
   */
  scatterOuter(picked: Picked, k: number, a: Place, c: Place): void;
  /** A = C[rows, columns]. */
  gather(picked: Picked, a: number, c: Place): void;
};

/** m rows and n columns of a matrix, their numbers at `rows` and `columns` of the integers. */
export type Picked = { m: number; n: number; rows: number; columns: number };

/** Sizes of a product: the result m × n, summed over k. */
export type Shape = { m: number; n: number; k: number };
/** Where a matrix begins in the heap, and how far one row lies from the next, both in doubles. */
export type Place = { at: number; ld: number };

/** Widest piece of {@link DenseKernels.scatterOuter}. */
export const NARROW = 4;

/** Pivot of a column that depends on others: so large that the column's part of every solution is 0. */
export const DEPENDENT = 1e100;

/**
 * The plain kernels over a heap of `doubles`, 8 bytes each, all 0 at first.
 * @example const { heap, addProduct } = plainDenseKernels(3); heap.set([2, 3]);
 * addProduct({ m: 1, n: 1, k: 1 }, { at: 0, ld: 1 }, { at: 1, ld: 1 }, { at: 2, ld: 1 }); heap[2] // 6
 */
export function plainDenseKernels(doubles: number): DenseKernels {
  const heap = new Float64Array(doubles);
  const integers = new Int32Array(heap.buffer);
  return {
    heap,
    integers,
    scatterAdd: (picked, a, c) =>
      eachPicked(integers, picked, c, (at, k) => {
        heap[at] = (heap[at] as number) + (heap[a + k] as number);
      }),
    scatterOuter: (picked, k, a, c) =>
      eachPicked(integers, picked, c, (at, place) => {
        const row = Math.floor(place / picked.n);
        const column = place % picked.n;
        if (column > row) return;
        let sum = 0;
        for (let p = 0; p < k; p++)
          sum += (heap[a.at + row * a.ld + p] as number) * (heap[a.at + column * a.ld + p] as number);
        heap[at] = (heap[at] as number) - sum;
      }),
    gather: (picked, a, c) =>
      eachPicked(integers, picked, c, (at, k) => {
        heap[a + k] = heap[at] as number;
      }),
    subtractOuter: (shape, a, b, c) => subtractOuter(heap, shape, a, b, c),
    subtractSymmetric: (shape, a, c) => subtractSymmetric(heap, shape, a, c),
    addProduct: (shape, a, b, c) => addProduct(heap, shape, { at: a.at, row: a.ld, column: 1 }, b, c),
    addTransposed: (shape, a, b, c) => addProduct(heap, shape, { at: a.at, row: 1, column: a.ld }, b, c),
    factor: (n, a, least) => factor(heap, n, a, least),
    solveRight: (m, n, l, b) => solveRight(heap, m, n, l, b),
    solveRightPlain: (m, n, l, b) => solveRightPlain(heap, m, n, l, b),
    invertFactor: (n, l, out) => invertFactor(heap, n, l, out),
  };
}

/**
 * The compiled kernels over a heap of `doubles`, or the plain ones where there is no WebAssembly (or not that much memory for it).
 * @example const { heap, addProduct } = denseKernels(3); heap.set([2, 3]);
 * addProduct({ m: 1, n: 1, k: 1 }, { at: 0, ld: 1 }, { at: 1, ld: 1 }, { at: 2, ld: 1 }); heap[2] // 6
 */
export function denseKernels(doubles: number): DenseKernels {
  const machine = startMachine(doubles);
  if (machine === null) return plainDenseKernels(doubles);
  const { exports, heap, base } = machine;
  const at = (place: Place) => base + place.at * 8;
  return {
    heap,
    integers: new Int32Array(heap.buffer, base, 2 * doubles),
    scatterAdd: ({ m, n, rows, columns }, a, c) =>
      exports.scatterAdd(m, n, base + a * 8, at(c), c.ld, base + rows * 4, base + columns * 4),
    scatterOuter: ({ m, n, rows, columns }, k, a, c) =>
      exports.scatterOuter(m, n, k, at(a), a.ld, at(c), c.ld, base + rows * 4, base + columns * 4),
    gather: ({ m, n, rows, columns }, a, c) =>
      exports.gather(m, n, base + a * 8, at(c), c.ld, base + rows * 4, base + columns * 4),
    subtractOuter: ({ m, n, k }, a, b, c) => exports.product(m, n, k, -1, at(a), a.ld, 1, at(b), 1, b.ld, at(c), c.ld),
    subtractSymmetric: ({ m, n, k }, a, c) => exports.subtractSymmetric(m, n, k, at(a), a.ld, at(c), c.ld),
    addProduct: ({ m, n, k }, a, b, c) => exports.product(m, n, k, 1, at(a), a.ld, 1, at(b), b.ld, 1, at(c), c.ld),
    addTransposed: ({ m, n, k }, a, b, c) => exports.product(m, n, k, 1, at(a), 1, a.ld, at(b), b.ld, 1, at(c), c.ld),
    factor: (n, a, least) => exports.factor(n, at(a), a.ld, base + least * 8, DEPENDENT),
    solveRight: (m, n, l, b) => exports.solveRight(m, n, at(l), l.ld, at(b), b.ld),
    solveRightPlain: (m, n, l, b) => exports.solveRightPlain(m, n, at(l), l.ld, at(b), b.ld),
    invertFactor: (n, l, out) => exports.invertFactor(n, at(l), l.ld, at(out), out.ld),
  };
}

/** Place in the heap of every picked entry, with its number in the packed matrix. */
function eachPicked(
  integers: Int32Array,
  { m, n, rows, columns }: Picked,
  c: Place,
  visit: (at: number, k: number) => void,
): void {
  for (let i = 0; i < m; i++) {
    const row = c.at + (integers[rows + i] as number) * c.ld;
    for (let j = 0; j < n; j++) visit(row + (integers[columns + j] as number), i * n + j);
  }
}

/** Two rows of A by two of B at a time, so that each number read is used twice. */
function subtractOuter(heap: Float64Array, { m, n, k }: Shape, a: Place, b: Place, c: Place): void {
  for (let i = 0; i < m; i += 2) {
    const a0 = a.at + i * a.ld;
    const twoRows = i + 1 < m;
    const a1 = twoRows ? a0 + a.ld : a0;
    for (let j = 0; j < n; j += 2) {
      const b0 = b.at + j * b.ld;
      const twoColumns = j + 1 < n;
      const b1 = twoColumns ? b0 + b.ld : b0;
      let s00 = 0;
      let s01 = 0;
      let s10 = 0;
      let s11 = 0;
      for (let p = 0; p < k; p++) {
        const x0 = heap[a0 + p] as number;
        const x1 = heap[a1 + p] as number;
        const y0 = heap[b0 + p] as number;
        const y1 = heap[b1 + p] as number;
        s00 += x0 * y0;
        s01 += x0 * y1;
        s10 += x1 * y0;
        s11 += x1 * y1;
      }
      const at = c.at + i * c.ld + j;
      heap[at] = (heap[at] as number) - s00;
      if (twoColumns) heap[at + 1] = (heap[at + 1] as number) - s01;
      if (!twoRows) continue;
      heap[at + c.ld] = (heap[at + c.ld] as number) - s10;
      if (twoColumns) heap[at + c.ld + 1] = (heap[at + c.ld + 1] as number) - s11;
    }
  }
}

function subtractSymmetric(heap: Float64Array, { m, n, k }: Shape, a: Place, c: Place): void {
  for (let i = 0; i < m; i++) {
    for (let j = 0; j < Math.min(n, i + 1); j++) {
      let sum = 0;
      for (let p = 0; p < k; p++) sum += (heap[a.at + i * a.ld + p] as number) * (heap[a.at + j * a.ld + p] as number);
      const at = c.at + i * c.ld + j;
      heap[at] = (heap[at] as number) - sum;
    }
  }
}

type Strided = { at: number; row: number; column: number };

function addProduct(heap: Float64Array, { m, n, k }: Shape, a: Strided, b: Place, c: Place): void {
  for (let i = 0; i < m; i++) {
    const ci = c.at + i * c.ld;
    for (let p = 0; p < k; p++) {
      const x = heap[a.at + i * a.row + p * a.column] as number;
      if (x === 0) continue;
      const bp = b.at + p * b.ld;
      for (let j = 0; j < n; j++) heap[ci + j] = (heap[ci + j] as number) + x * (heap[bp + j] as number);
    }
  }
}

function factor(heap: Float64Array, n: number, a: Place, least: number): number {
  let dependent = 0;
  for (let j = 0; j < n; j++) {
    const row = a.at + j * a.ld;
    let pivot = heap[row + j] as number;
    for (let p = 0; p < j; p++) pivot -= (heap[row + p] as number) ** 2;
    const isDependent = !(pivot > (heap[least + j] as number));
    if (isDependent) dependent++;
    const root = isDependent ? DEPENDENT : Math.sqrt(pivot);
    heap[row + j] = root;
    for (let i = j + 1; i < n; i++) {
      const other = a.at + i * a.ld;
      let sum = heap[other + j] as number;
      for (let p = 0; p < j; p++) sum -= (heap[other + p] as number) * (heap[row + p] as number);
      heap[other + j] = sum / root;
    }
  }
  return dependent;
}

function solveRight(heap: Float64Array, m: number, n: number, l: Place, b: Place): void {
  for (let i = 0; i < m; i++) {
    const row = b.at + i * b.ld;
    for (let j = 0; j < n; j++) {
      const lj = l.at + j * l.ld;
      let sum = heap[row + j] as number;
      for (let p = 0; p < j; p++) sum -= (heap[row + p] as number) * (heap[lj + p] as number);
      heap[row + j] = sum / (heap[lj + j] as number);
    }
  }
}

function solveRightPlain(heap: Float64Array, m: number, n: number, l: Place, b: Place): void {
  for (let i = 0; i < m; i++) {
    const row = b.at + i * b.ld;
    for (let j = n - 1; j >= 0; j--) {
      const lj = l.at + j * l.ld;
      const value = (heap[row + j] as number) / (heap[lj + j] as number);
      heap[row + j] = value;
      for (let p = 0; p < j; p++) heap[row + p] = (heap[row + p] as number) - value * (heap[lj + p] as number);
    }
  }
}

function invertFactor(heap: Float64Array, n: number, l: Place, out: Place): void {
  const L = (i: number, j: number) => l.at + i * l.ld + j;
  for (let j = 0; j < n; j++) {
    heap[L(j, j)] = 1 / (heap[L(j, j)] as number);
    for (let i = j + 1; i < n; i++) {
      let sum = 0;
      for (let p = j; p < i; p++) sum -= (heap[L(i, p)] as number) * (heap[L(p, j)] as number);
      heap[L(i, j)] = sum / (heap[L(i, i)] as number);
    }
  }
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (let p = i; p < n; p++) sum += (heap[L(p, i)] as number) * (heap[L(p, j)] as number);
      heap[out.at + i * out.ld + j] = sum;
      heap[out.at + j * out.ld + i] = sum;
    }
  }
}
