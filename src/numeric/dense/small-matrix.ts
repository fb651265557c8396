/**
 * Small dense symmetric matrices (a few to a few hundred rows), row after row in a Float64Array. Plain loops: clear, and fast enough at
 * this size; large ones go through numeric/sparse.
 */

/** A square matrix of `size` rows, `size × size` numbers row after row: element (i, j) is `a[i * size + j]`. */
export type Square = Float64Array;

/**
 * The unit matrix.
 * @example identity(2) // [1, 0, 0, 1]
 */
export const identity = (size: number): Square => {
  const out = new Float64Array(size * size);
  for (let i = 0; i < size; i++) out[i * size + i] = 1;
  return out;
};

/**
 * Cholesky factor in place: the lower triangle becomes L with L L' = the matrix, the upper triangle is set to 0.
 * Answers whether the matrix was positive definite; when not, its contents are spoilt. Only the lower triangle is read. Time: size³/3 operations
 * (Golub and Van Loan 2013, algorithm 4.2.1).
 * @param least pivots at or below this count as not positive
 * @example const a = Float64Array.of(4, 2, 2, 5); choleskyInPlace(a, 2); a // [2, 0, 1, 2]
 */
export function choleskyInPlace(a: Square, size: number, least = 0): boolean {
  for (let j = 0; j < size; j++) {
    let pivot = a[j * size + j] as number;
    for (let k = 0; k < j; k++) pivot -= (a[j * size + k] as number) ** 2;
    if (!(pivot > least)) return false;
    const root = Math.sqrt(pivot);
    a[j * size + j] = root;
    for (let i = j + 1; i < size; i++) {
      let sum = a[i * size + j] as number;
      for (let k = 0; k < j; k++) sum -= (a[i * size + k] as number) * (a[j * size + k] as number);
      a[i * size + j] = sum / root;
    }
    for (let k = j + 1; k < size; k++) a[j * size + k] = 0;
  }
  return true;
}

/**
 * Solves L L' x = b in place, L from {@link choleskyInPlace}, `size` numbers in b; answers b. Time: 2 size² operations.
 * @example solveCholesky(Float64Array.of(2, 0, 1, 2), 2, Float64Array.of(6, 7)) // [1, 1]; (4 2; 2 5)(1, 1)' = (6, 7)'
 */
export function solveCholesky(l: Square, size: number, b: Float64Array): Float64Array {
  for (let i = 0; i < size; i++) {
    let sum = b[i] as number;
    for (let k = 0; k < i; k++) sum -= (l[i * size + k] as number) * (b[k] as number);
    b[i] = sum / (l[i * size + i] as number);
  }
  for (let i = size - 1; i >= 0; i--) {
    let sum = b[i] as number;
    for (let k = i + 1; k < size; k++) sum -= (l[k * size + i] as number) * (b[k] as number);
    b[i] = sum / (l[i * size + i] as number);
  }
  return b;
}

/**
 * Inverse of a symmetric positive definite matrix, exactly symmetric, or `null` when it is not. The matrix stays as it is. Time: about 2 size³
 * operations.
 * @example inverseOf(Float64Array.of(2, 1, 1, 2), 2) // [2 / 3, -1 / 3, -1 / 3, 2 / 3]
 */
export function inverseOf(a: Square, size: number): Square | null {
  const l = a.slice();
  if (!choleskyInPlace(l, size)) return null;
  const out = new Float64Array(size * size);
  const column = new Float64Array(size);
  for (let j = 0; j < size; j++) {
    column.fill(0);
    column[j] = 1;
    solveCholesky(l, size, column);
    for (let i = 0; i < size; i++) out[i * size + j] = column[i] as number;
  }
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < i; j++) out[j * size + i] = out[i * size + j] as number;
  }
  return out;
}

/**
 * Natural logarithm of the determinant of a matrix from its Cholesky factor: Σ 2 ln l_ii.
 * @example logDeterminant(Float64Array.of(2, 0, 1, 2), 2) // Math.log(16)
 */
export function logDeterminant(l: Square, size: number): number {
  let sum = 0;
  for (let i = 0; i < size; i++) sum += 2 * Math.log(l[i * size + i] as number);
  return sum;
}

/**
 * C = A B for square matrices, C new. Time: 2 size³ operations; zeros of A are passed over.
 * @example multiply(Float64Array.of(1, 2, 3, 4), Float64Array.of(0, 1, 1, 0), 2) // [2, 1, 4, 3]
 */
export function multiply(a: Square, b: Square, size: number): Square {
  const out = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let k = 0; k < size; k++) {
      const value = a[i * size + k] as number;
      if (value === 0) continue;
      for (let j = 0; j < size; j++)
        out[i * size + j] = (out[i * size + j] as number) + value * (b[k * size + j] as number);
    }
  }
  return out;
}

/**
 * Eigenvalues (`size`, rising) and vectors of length 1 (`size × size`; vector k is column k: `vectors[i * size + k]`) of a symmetric matrix, by
 * cyclic Jacobi rotations (Golub and Van Loan 2013, § 8.5). The matrix stays as it is. Time: size³ a sweep, mostly under ten of them, 60 at most.
 * @example eigenOf(Float64Array.of(2, 1, 1, 2), 2).values // [1, 3]
 */
export function eigenOf(symmetric: Square, size: number): { values: Float64Array; vectors: Square } {
  const a = symmetric.slice();
  const vectors = identity(size);
  for (let sweep = 0; sweep < 60 && offDiagonal(a, size) > 0; sweep++) {
    for (let p = 0; p < size - 1; p++) for (let q = p + 1; q < size; q++) rotate(a, vectors, { size, p, q });
  }
  const order = Array.from({ length: size }, (_, i) => i).sort(
    (i, j) => (a[i * size + i] as number) - (a[j * size + j] as number),
  );
  const sorted = new Float64Array(size * size);
  for (const [k, from] of order.entries()) {
    for (let i = 0; i < size; i++) sorted[i * size + k] = vectors[i * size + from] as number;
  }
  return { values: Float64Array.from(order, (i) => a[i * size + i] as number), vectors: sorted };
}

/** Sum of squares off the diagonal; 0 when it is lost in rounding beside the diagonal. */
function offDiagonal(a: Square, size: number): number {
  let off = 0;
  let on = 0;
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      if (i === j) on += (a[i * size + i] as number) ** 2;
      else off += (a[i * size + j] as number) ** 2;
    }
  }
  return off <= 1e-32 * on ? 0 : off;
}

function rotate(a: Square, vectors: Square, { size, p, q }: { size: number; p: number; q: number }): void {
  const off = a[p * size + q] as number;
  if (off === 0) return;
  const theta = ((a[q * size + q] as number) - (a[p * size + p] as number)) / (2 * off);
  const t = (theta >= 0 ? 1 : -1) / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
  const c = 1 / Math.sqrt(t * t + 1);
  const s = t * c;
  for (let k = 0; k < size; k++) {
    const kp = a[k * size + p] as number;
    const kq = a[k * size + q] as number;
    a[k * size + p] = c * kp - s * kq;
    a[k * size + q] = s * kp + c * kq;
  }
  for (let k = 0; k < size; k++) {
    const pk = a[p * size + k] as number;
    const qk = a[q * size + k] as number;
    a[p * size + k] = c * pk - s * qk;
    a[q * size + k] = s * pk + c * qk;
    const vp = vectors[k * size + p] as number;
    const vq = vectors[k * size + q] as number;
    vectors[k * size + p] = c * vp - s * vq;
    vectors[k * size + q] = s * vp + c * vq;
  }
}

/**
 * Inverse of a symmetric positive semidefinite matrix on the rows whose diagonal is above 0; other rows and columns are 0. All 0 when that part is
 * not positive definite.
 * @example inverseOfPart(Float64Array.of(2, 0, 0, 0), 2) // [0.5, 0, 0, 0]
 */
export function inverseOfPart(a: Square, size: number): Square {
  const rows: number[] = [];
  for (let i = 0; i < size; i++) if ((a[i * size + i] as number) > 0) rows.push(i);
  const part = new Float64Array(rows.length ** 2);
  for (const [i, r] of rows.entries())
    for (const [j, c] of rows.entries()) part[i * rows.length + j] = a[r * size + c] as number;
  const inverse = inverseOf(part, rows.length);
  const out = new Float64Array(size * size);
  if (inverse === null) return out;
  for (const [i, r] of rows.entries())
    for (const [j, c] of rows.entries()) out[r * size + c] = inverse[i * rows.length + j] as number;
  return out;
}
