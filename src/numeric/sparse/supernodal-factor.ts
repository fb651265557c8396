/**
 * Sparse Cholesky factorisation by supernodes, left-looking (Ng and Peyton 1993, SIAM J Sci Comput 14:1034): each panel is loaded, updated by the
 * panels that reach into it, and factored with dense kernels.
 */
import { DEPENDENT, type DenseKernels, denseKernels, NARROW } from '../kernels/dense-kernels.ts';
import type { Supernodes } from './analyse.ts';
import type { BlockMatrix } from './block-matrix.ts';

/** A factor in the heap of its kernels. */
export type SupernodalFactor = {
  readonly supernodes: Supernodes;
  readonly kernels: DenseKernels;
  /** Where the panels begin in the heap. */
  readonly base: number;
  /** Natural logarithm of the determinant, dependent rows left out. */
  readonly logDeterminant: number;
  /** Rows that depend on others (their unknowns are 0), in the order of elimination. */
  readonly dependent: readonly number[];
};

/** A pivot this small beside what stood there at first is a dependence. */
const DEPENDENCE = 1e-10;

type MakeKernels = (doubles: number) => DenseKernels;

/**
 * Largest width (columns), height (rows) and panel (doubles) of any supernode.
 * @example largestOf(workedMatrix().supernodes) // { width: 2, height: 2, panel: 4 }
 */
export function largestOf(supernodes: Supernodes): { width: number; height: number; panel: number } {
  const largest = { width: 0, height: 0, panel: 0 };
  for (let s = 0; s < supernodes.count; s++) {
    const { width, height } = shapeOf(supernodes, s);
    largest.width = Math.max(largest.width, width);
    largest.height = Math.max(largest.height, height);
    largest.panel = Math.max(largest.panel, width * height);
  }
  return largest;
}

/**
 * Doubles a factorisation and its selected inverse need: panels, a panel of workspace, a gathered piece, the pivots' thresholds, picked rows and
 * columns.
 * @example factorDoubles(workedMatrix().supernodes) // 14; a panel 4, workspace 4 + 4, numbers of picked rows and columns 2
 */
export function factorDoubles(supernodes: Supernodes): number {
  const { height } = largestOf(supernodes);
  return pickedAt(supernodes) / 2 + height;
}

/**
 * Where the numbers of picked rows and columns stand, counted in integers: behind everything else.
 * @example pickedAt(workedMatrix().supernodes) // 24; twelve doubles before them
 */
export function pickedAt(supernodes: Supernodes): number {
  const { width, height, panel } = largestOf(supernodes);
  return 2 * (supernodes.doubles + panel + Math.max(height * width, supernodes.rows));
}

/**
 * Kernels with a heap large enough for a factor and its selected inverse.
 * @example makeFactorKernels(workedMatrix().supernodes).heap.length // 14
 */
export function makeFactorKernels(supernodes: Supernodes, make: MakeKernels = denseKernels): DenseKernels {
  return make(factorDoubles(supernodes));
}

/**
 * Factors a positive semidefinite matrix, A = LL', into the heap of the kernels; its symbolic part and kernels can be used again for other values
 * (the factor before is then gone). Dependent rows are found, not refused. Time: `supernodes.flops`.
 * @example const matrix = workedMatrix();
 * factorSupernodes(matrix, makeFactorKernels(matrix.supernodes)).logDeterminant // Math.log(11)
 */
export function factorSupernodes(matrix: BlockMatrix, kernels: DenseKernels): SupernodalFactor {
  const { supernodes } = matrix;
  const { count, rows, doubles } = supernodes;
  const state: State = {
    matrix,
    kernels,
    buffer: doubles,
    least: doubles + largestOf(supernodes).panel,
    picked: pickedAt(supernodes),
    local: new Int32Array(rows),
    head: new Int32Array(count).fill(-1),
    next: new Int32Array(count).fill(-1),
    at: new Int32Array(count),
    byColumn: verticesByColumn(supernodes),
  };
  let dependent = 0;
  for (let s = 0; s < count; s++) dependent += factorPanel(state, s);
  return { supernodes, kernels, base: 0, ...pivotsOf(supernodes, kernels.heap, dependent) };
}

type State = {
  matrix: BlockMatrix;
  kernels: DenseKernels;
  buffer: number;
  least: number;
  picked: number;
  /** Row within the present panel. */
  local: Int32Array;
  /** Panels that reach into each supernode next, as linked lists, and where in their rows they stand. */
  head: Int32Array;
  next: Int32Array;
  at: Int32Array;
  byColumn: Int32Array;
};

/** Vertices in the order of their columns. */
function verticesByColumn({ firstRow }: Supernodes): Int32Array {
  return Int32Array.from(firstRow.keys()).sort((a, b) => (firstRow[a] as number) - (firstRow[b] as number));
}

const shapeOf = ({ columnStart, rowStart }: Supernodes, s: number) => ({
  width: (columnStart[s + 1] as number) - (columnStart[s] as number),
  height: (rowStart[s + 1] as number) - (rowStart[s] as number),
});

function factorPanel(state: State, s: number): number {
  const { kernels, local } = state;
  const { supernodes } = state.matrix;
  const { width, height } = shapeOf(supernodes, s);
  const first = supernodes.rowStart[s] as number;
  for (let k = 0; k < height; k++) local[supernodes.row[first + k] as number] = k;
  load(state, s, width);
  for (let d = state.head[s] as number; d >= 0; ) {
    const following = state.next[d] as number;
    update(state, s, d);
    d = following;
  }
  const at = supernodes.panel[s] as number;
  const dependent = kernels.factor(width, { at, ld: width }, state.least + (supernodes.columnStart[s] as number));
  if (height > width)
    kernels.solveRight(height - width, width, { at, ld: width }, { at: at + width * width, ld: width });
  state.at[s] = width;
  waitFor(state, s);
  return dependent;
}

/** Puts a panel into the list of the supernode its next rows belong to. */
function waitFor(state: State, d: number): void {
  const { supernodes } = state.matrix;
  const at = (supernodes.rowStart[d] as number) + (state.at[d] as number);
  if (at >= (supernodes.rowStart[d + 1] as number)) return;
  const target = supernodes.ofColumn[supernodes.row[at] as number] as number;
  state.next[d] = state.head[target] as number;
  state.head[target] = d;
}

/** The matrix's own values of the columns of supernode s. */
function load(state: State, s: number, width: number): void {
  const { matrix, kernels, local, least } = state;
  const { heap } = kernels;
  const { supernodes, start, other, block, values } = matrix;
  const { firstRow, weight, columnStart, panel } = supernodes;
  const base = panel[s] as number;
  const firstColumn = columnStart[s] as number;
  const end = columnStart[s + 1] as number;
  heap.fill(0, base, base + width * shapeOf(supernodes, s).height);
  for (let k = vertexAt(state, firstColumn); k < state.byColumn.length; k++) {
    const v = state.byColumn[k] as number;
    if ((firstRow[v] as number) >= end) break;
    const column = (firstRow[v] as number) - firstColumn;
    const wide = weight[v] as number;
    for (let e = start[v] as number; e < (start[v + 1] as number); e++) {
      const w = other[e] as number;
      const high = weight[w] as number;
      const from = block[e] as number;
      const row = local[firstRow[w] as number] as number;
      for (let i = 0; i < high; i++) {
        for (let j = 0; j < wide; j++)
          heap[base + (row + i) * width + column + j] = values[from + i * wide + j] as number;
      }
    }
    for (let j = 0; j < wide; j++) {
      const diagonal = heap[base + (column + j) * width + column + j] as number;
      heap[least + (firstRow[v] as number) + j] = DEPENDENCE * Math.abs(diagonal);
    }
  }
}

/** Index in `byColumn` of the vertex whose first row is `column`. */
function vertexAt({ byColumn, matrix }: State, column: number): number {
  const { firstRow } = matrix.supernodes;
  let low = 0;
  let high = byColumn.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((firstRow[byColumn[middle] as number] as number) < column) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Subtracts what panel d gives to panel s, and passes d on. */
function update(state: State, s: number, d: number): void {
  const { kernels, local, buffer } = state;
  const { supernodes } = state.matrix;
  const { row, rowStart, columnStart, panel } = supernodes;
  const { width, height } = shapeOf(supernodes, d);
  const targetWidth = shapeOf(supernodes, s).width;
  const first = rowStart[d] as number;
  const from = state.at[d] as number;
  const end = columnStart[s + 1] as number;
  let to = from;
  while (to < height && (row[first + to] as number) < end) to++;
  const m = height - from;
  const n = to - from;
  const { heap } = kernels;
  const place = { at: (panel[d] as number) + from * width, ld: width };
  const base = panel[s] as number;
  const firstColumn = columnStart[s] as number;
  const contiguous =
    (row[first + to - 1] as number) - (row[first + from] as number) === n - 1 && isRun(local, row, first + from, m);
  if (contiguous) {
    const corner =
      (local[row[first + from] as number] as number) * targetWidth + (row[first + from] as number) - firstColumn;
    kernels.subtractSymmetric({ m, n, k: width }, place, { at: base + corner, ld: targetWidth });
  } else {
    const { integers } = kernels;
    const rows = state.picked;
    const columns = rows + m;
    for (let i = 0; i < m; i++) integers[rows + i] = local[row[first + from + i] as number] as number;
    for (let j = 0; j < n; j++) integers[columns + j] = (row[first + from + j] as number) - firstColumn;
    const picked = { m, n, rows, columns };
    const target = { at: base, ld: targetWidth };
    if (width <= NARROW) kernels.scatterOuter(picked, width, place, target);
    else {
      heap.fill(0, buffer, buffer + m * n);
      kernels.subtractSymmetric({ m, n, k: width }, place, { at: buffer, ld: n });
      kernels.scatterAdd(picked, buffer, target);
    }
  }
  state.at[d] = to;
  waitFor(state, d);
}

/** Whether m rows from `at` lie one after another in the target panel. */
function isRun(local: Int32Array, row: Int32Array, at: number, m: number): boolean {
  return (local[row[at + m - 1] as number] as number) - (local[row[at] as number] as number) === m - 1;
}

function pivotsOf({ count, columnStart, panel }: Supernodes, heap: Float64Array, dependentCount: number) {
  const dependent: number[] = [];
  let logDeterminant = 0;
  for (let s = 0; s < count; s++) {
    const width = (columnStart[s + 1] as number) - (columnStart[s] as number);
    for (let j = 0; j < width; j++) {
      const pivot = heap[(panel[s] as number) + j * width + j] as number;
      if (dependentCount > 0 && pivot === DEPENDENT) dependent.push((columnStart[s] as number) + j);
      else logDeterminant += 2 * Math.log(pivot);
    }
  }
  return { logDeterminant, dependent };
}

/**
 * Solves in place: `x` (`rows` numbers) is the right-hand side in the order of elimination, then the solution; also answered. Two passes over the
 * panels.
 * @example const matrix = workedMatrix(); const [first, second] = matrix.supernodes.firstRow;
 * const x = new Float64Array(2); x[first] = 5; x[second] = 4;
 * solveSupernodes(factorSupernodes(matrix, makeFactorKernels(matrix.supernodes)), x) // [1, 1]; (4 1; 1 3)(1, 1)' = (5, 4)'
 */
export function solveSupernodes({ supernodes, kernels }: SupernodalFactor, x: Float64Array): Float64Array {
  const { count, rowStart, row, panel } = supernodes;
  const { heap } = kernels;
  for (let s = 0; s < count; s++) {
    const { width, height } = shapeOf(supernodes, s);
    const at = panel[s] as number;
    const first = supernodes.columnStart[s] as number;
    for (let j = 0; j < width; j++) {
      let sum = x[first + j] as number;
      for (let p = 0; p < j; p++) sum -= (heap[at + j * width + p] as number) * (x[first + p] as number);
      x[first + j] = sum / (heap[at + j * width + j] as number);
    }
    for (let i = width; i < height; i++) {
      let sum = 0;
      for (let p = 0; p < width; p++) sum += (heap[at + i * width + p] as number) * (x[first + p] as number);
      const r = row[(rowStart[s] as number) + i] as number;
      x[r] = (x[r] as number) - sum;
    }
  }
  for (let s = count - 1; s >= 0; s--) {
    const { width, height } = shapeOf(supernodes, s);
    const at = panel[s] as number;
    const first = supernodes.columnStart[s] as number;
    for (let i = width; i < height; i++) {
      const value = x[row[(rowStart[s] as number) + i] as number] as number;
      for (let p = 0; p < width; p++)
        x[first + p] = (x[first + p] as number) - (heap[at + i * width + p] as number) * value;
    }
    for (let j = width - 1; j >= 0; j--) {
      const value = (x[first + j] as number) / (heap[at + j * width + j] as number);
      x[first + j] = value;
      for (let p = 0; p < j; p++)
        x[first + p] = (x[first + p] as number) - (heap[at + j * width + p] as number) * value;
    }
  }
  return x;
}
