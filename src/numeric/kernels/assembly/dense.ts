/**
 * Dense kernels over row-major doubles in linear memory; AssemblyScript. The plain twins in ../dense-kernels.ts say what each does.
 * Matrix products follow the packed scheme of Goto and van de Geijn 2008 (ACM Trans Math Softw 34:12): pieces of A and B are copied into
 * buffers so that the innermost 4 × 4 tile reads both one after another. Pointers are in bytes, leading dimensions in doubles.
 */

const KC: i32 = 256;
const MC: i32 = 128;
const NC: i32 = 1024;
/** Panels wider than this are factored and solved in blocks. */
const BLOCK: i32 = 32;

/** Where the buffers lie: A, then B, then one tile; set once by `layOut`. */
let bufferA: usize = 0;
let bufferB: usize = 0;
let tile: usize = 0;
/** The inverse of a diagonal block, and a piece of the rows it is applied to. */
let corner: usize = 0;
let strip: usize = 0;

/** Rows solved at one stroke. */
const STRIP: i32 = 128;

/** Bytes the buffers take. */
export function bufferBytes(): i32 {
  return ((MC + 4) * KC + KC * (NC + 4) + 16 + BLOCK * BLOCK + STRIP * BLOCK) * 8;
}

/**
 * Names the byte from which {@link bufferBytes} bytes are free for buffers, a multiple of 16; called once, before any other kernel. Almost every
 * kernel overwrites what lies there.
 */
export function layOut(at: usize): void {
  bufferA = at;
  bufferB = at + <usize>((MC + 4) * KC * 8);
  tile = bufferB + <usize>(KC * (NC + 4) * 8);
  corner = tile + 128;
  strip = corner + <usize>(BLOCK * BLOCK * 8);
}

/** Rows of A (m × k, strides in doubles) into groups of four: for each group k times four values, zeros where rows are missing. */
function packRows(a: usize, rowStride: i32, columnStride: i32, m: i32, k: i32, out: usize): void {
  let to = out;
  let i = 0;
  if (columnStride === 1) {
    for (; i + 4 <= m; i += 4) to = packFour(a + (<usize>(i * rowStride) << 3), <usize>rowStride << 3, k, to);
  }
  for (; i < m; i += 4) {
    const rows = min(4, m - i);
    for (let p = 0; p < k; p++) {
      let from = a + (<usize>(i * rowStride + p * columnStride) << 3);
      for (let r = 0; r < rows; r++) {
        f64.store(to, f64.load(from));
        from += <usize>rowStride << 3;
        to += 8;
      }
      for (let r = rows; r < 4; r++) {
        f64.store(to, 0);
        to += 8;
      }
    }
  }
}

/** Four whole rows, `stride` bytes apart, two columns at a time; answers where the next group goes. */
// @ts-ignore: decorator
@inline
function packFour(a: usize, stride: usize, k: i32, out: usize): usize {
  let to = out;
  let r0 = a;
  let r1 = r0 + stride;
  let r2 = r1 + stride;
  let r3 = r2 + stride;
  let p = 0;
  for (; p + 2 <= k; p += 2) {
    const x0 = v128.load(r0), x1 = v128.load(r1), x2 = v128.load(r2), x3 = v128.load(r3);
    v128.store(to, v128.shuffle<i64>(x0, x1, 0, 2));
    v128.store(to, v128.shuffle<i64>(x2, x3, 0, 2), 16);
    v128.store(to, v128.shuffle<i64>(x0, x1, 1, 3), 32);
    v128.store(to, v128.shuffle<i64>(x2, x3, 1, 3), 48);
    r0 += 16;
    r1 += 16;
    r2 += 16;
    r3 += 16;
    to += 64;
  }
  if (p < k) {
    f64.store(to, f64.load(r0));
    f64.store(to, f64.load(r1), 8);
    f64.store(to, f64.load(r2), 16);
    f64.store(to, f64.load(r3), 24);
    to += 32;
  }
  return to;
}

/** One 4 × 4 tile of C += scale · A B from packed pieces. */
// @ts-ignore: decorator
@inline
function tileProduct(pa: usize, pb: usize, k: i32, c: usize, ldc: i32, scale: f64): void {
  let c00 = f64x2.splat(0), c01 = f64x2.splat(0);
  let c10 = f64x2.splat(0), c11 = f64x2.splat(0);
  let c20 = f64x2.splat(0), c21 = f64x2.splat(0);
  let c30 = f64x2.splat(0), c31 = f64x2.splat(0);
  for (let p = 0; p < k; p++) {
    const b0 = v128.load(pb), b1 = v128.load(pb, 16);
    const a0 = v128.load64_splat(pa), a1 = v128.load64_splat(pa, 8);
    const a2 = v128.load64_splat(pa, 16), a3 = v128.load64_splat(pa, 24);
    c00 = f64x2.add(c00, f64x2.mul(a0, b0));
    c01 = f64x2.add(c01, f64x2.mul(a0, b1));
    c10 = f64x2.add(c10, f64x2.mul(a1, b0));
    c11 = f64x2.add(c11, f64x2.mul(a1, b1));
    c20 = f64x2.add(c20, f64x2.mul(a2, b0));
    c21 = f64x2.add(c21, f64x2.mul(a2, b1));
    c30 = f64x2.add(c30, f64x2.mul(a3, b0));
    c31 = f64x2.add(c31, f64x2.mul(a3, b1));
    pa += 32;
    pb += 32;
  }
  const s = f64x2.splat(scale);
  const step = <usize>ldc << 3;
  v128.store(c, f64x2.add(v128.load(c), f64x2.mul(s, c00)));
  v128.store(c, f64x2.add(v128.load(c, 16), f64x2.mul(s, c01)), 16);
  c += step;
  v128.store(c, f64x2.add(v128.load(c), f64x2.mul(s, c10)));
  v128.store(c, f64x2.add(v128.load(c, 16), f64x2.mul(s, c11)), 16);
  c += step;
  v128.store(c, f64x2.add(v128.load(c), f64x2.mul(s, c20)));
  v128.store(c, f64x2.add(v128.load(c, 16), f64x2.mul(s, c21)), 16);
  c += step;
  v128.store(c, f64x2.add(v128.load(c), f64x2.mul(s, c30)));
  v128.store(c, f64x2.add(v128.load(c, 16), f64x2.mul(s, c31)), 16);
}

/** A tile at the edge: worked out in a buffer, then only what exists is added. */
function edgeTile(pa: usize, pb: usize, k: i32, c: usize, ldc: i32, scale: f64, rows: i32, columns: i32): void {
  memory.fill(tile, 0, 128);
  tileProduct(pa, pb, k, tile, 4, scale);
  for (let r = 0; r < rows; r++) {
    const into = c + (<usize>(r * ldc) << 3);
    const from = tile + (<usize>(r * 4) << 3);
    for (let j = 0; j < columns; j++) {
      const at = into + (<usize>j << 3);
      f64.store(at, f64.load(at) + f64.load(from + (<usize>j << 3)));
    }
  }
}

/** C (m × n) += scale · A B; A m × k with strides (ar, ac), B k × n with strides (br, bc). */
export function product(
  m: i32, n: i32, k: i32, scale: f64,
  a: usize, ar: i32, ac: i32, b: usize, br: i32, bc: i32, c: usize, ldc: i32,
): void {
  for (let j0 = 0; j0 < n; j0 += NC) {
    const nc = min(NC, n - j0);
    for (let p0 = 0; p0 < k; p0 += KC) {
      const kc = min(KC, k - p0);
      packRows(b + (<usize>(p0 * br + j0 * bc) << 3), bc, br, nc, kc, bufferB);
      for (let i0 = 0; i0 < m; i0 += MC) {
        const mc = min(MC, m - i0);
        packRows(a + (<usize>(i0 * ar + p0 * ac) << 3), ar, ac, mc, kc, bufferA);
        for (let j = 0; j < nc; j += 4) {
          const pb = bufferB + (<usize>(j * kc) << 3);
          const columns = min(4, nc - j);
          for (let i = 0; i < mc; i += 4) {
            const pa = bufferA + (<usize>(i * kc) << 3);
            const at = c + (<usize>((i0 + i) * ldc + j0 + j) << 3);
            const rows = min(4, mc - i);
            if (rows === 4 && columns === 4) tileProduct(pa, pb, kc, at, ldc, scale);
            else edgeTile(pa, pb, kc, at, ldc, scale, rows, columns);
          }
        }
      }
    }
  }
}

/** C (m × n) −= A B', B the first n ≤ NC of the m rows of A (m × k); of the rows i < n only the tiles that hold a column j ≤ i. */
export function subtractSymmetric(m: i32, n: i32, k: i32, a: usize, lda: i32, c: usize, ldc: i32): void {
  for (let p0 = 0; p0 < k; p0 += KC) {
    const kc = min(KC, k - p0);
    const from = a + (<usize>p0 << 3);
    packRows(from, lda, 1, n, kc, bufferB);
    for (let i0 = 0; i0 < m; i0 += MC) {
      const mc = min(MC, m - i0);
      // MC is a multiple of a tile, so whole blocks among the first n rows stand packed already
      let packed = bufferA;
      if (i0 + mc <= n) packed = bufferB + (<usize>(i0 * kc) << 3);
      else packRows(from + (<usize>(i0 * lda) << 3), lda, 1, mc, kc, bufferA);
      for (let j = 0; j < n; j += 4) {
        const pb = bufferB + (<usize>(j * kc) << 3);
        const columns = min(4, n - j);
        for (let i = j > i0 ? j - i0 : 0; i < mc; i += 4) {
          const pa = packed + (<usize>(i * kc) << 3);
          const at = c + (<usize>((i0 + i) * ldc + j) << 3);
          const rows = min(4, mc - i);
          if (rows === 4 && columns === 4) tileProduct(pa, pb, kc, at, ldc, -1);
          else edgeTile(pa, pb, kc, at, ldc, -1, rows, columns);
        }
      }
    }
  }
}

/** Sum of x[p]·y[p] for p < k. */
// @ts-ignore: decorator
@inline
function dot(x: usize, y: usize, k: i32): f64 {
  let s = f64x2.splat(0);
  let p = 0;
  for (; p + 2 <= k; p += 2) {
    const at = <usize>p << 3;
    s = f64x2.add(s, f64x2.mul(v128.load(x + at), v128.load(y + at)));
  }
  let sum = f64x2.extract_lane(s, 0) + f64x2.extract_lane(s, 1);
  if (p < k) sum += f64.load(x + (<usize>p << 3)) * f64.load(y + (<usize>p << 3));
  return sum;
}

/** Small factor, columns up to BLOCK; dependent pivots become `dependent`. */
function factorSmall(n: i32, a: usize, lda: i32, least: usize, dependent: f64): i32 {
  let found = 0;
  for (let j = 0; j < n; j++) {
    const row = a + (<usize>(j * lda) << 3);
    const at = row + (<usize>j << 3);
    const pivot = f64.load(at) - dot(row, row, j);
    let root: f64;
    if (pivot > f64.load(least + (<usize>j << 3))) root = sqrt(pivot);
    else {
      root = dependent;
      found++;
    }
    f64.store(at, root);
    const inverse = 1.0 / root;
    for (let i = j + 1; i < n; i++) {
      const other = a + (<usize>(i * lda) << 3);
      const place = other + (<usize>j << 3);
      f64.store(place, (f64.load(place) - dot(other, row, j)) * inverse);
    }
  }
  return found;
}

/** L⁻¹ of at most BLOCK columns into `corner`, zeros above the diagonal. */
function invertCorner(n: i32, l: usize, ldl: i32): void {
  memory.fill(corner, 0, <usize>(n * n) << 3);
  for (let j = 0; j < n; j++) {
    f64.store(corner + (<usize>(j * n + j) << 3), 1.0 / f64.load(l + (<usize>(j * ldl + j) << 3)));
    for (let i = j + 1; i < n; i++) {
      const row = l + (<usize>(i * ldl) << 3);
      let sum: f64 = 0;
      for (let p = j; p < i; p++) sum += f64.load(row + (<usize>p << 3)) * f64.load(corner + (<usize>(p * n + j) << 3));
      f64.store(corner + (<usize>(i * n + j) << 3), -sum / f64.load(row + (<usize>i << 3)));
    }
  }
}

/** B := B L⁻¹ or B L'⁻¹ for at most BLOCK columns, through the inverse of L. */
function solveSmall(m: i32, n: i32, l: usize, ldl: i32, b: usize, ldb: i32, transposed: bool): void {
  invertCorner(n, l, ldl);
  const bytes = <usize>n << 3;
  for (let i0 = 0; i0 < m; i0 += STRIP) {
    const rows = min(STRIP, m - i0);
    const from = b + (<usize>(i0 * ldb) << 3);
    for (let i = 0; i < rows; i++) {
      const row = from + (<usize>(i * ldb) << 3);
      memory.copy(strip + <usize>i * bytes, row, bytes);
      memory.fill(row, 0, bytes);
    }
    if (transposed) product(rows, n, n, 1, strip, n, 1, corner, 1, n, from, ldb);
    else product(rows, n, n, 1, strip, n, 1, corner, n, 1, from, ldb);
  }
}

/**
 * B := B L'⁻¹, B m × n, L n × n lower, from the first columns to the last: blocks of 32 columns, each through the inverse of its diagonal block of L,
 * the rest by `product`. The upper triangle of L is not read.
 */
export function solveRight(m: i32, n: i32, l: usize, ldl: i32, b: usize, ldb: i32): void {
  for (let j = 0; j < n; j += BLOCK) {
    const w = min(BLOCK, n - j);
    const diagonal = l + (<usize>(j * ldl + j) << 3);
    const bj = b + (<usize>j << 3);
    solveSmall(m, w, diagonal, ldl, bj, ldb, true);
    const rest = n - j - w;
    // each block of columns is packed once, for all that come after it
    if (rest > 0) product(m, rest, w, -1, bj, ldb, 1, diagonal + (<usize>(w * ldl) << 3), 1, ldl, bj + (<usize>w << 3), ldb);
  }
}

/**
 * Lower Cholesky factor in place of the n × n matrix at `a`, and how many pivots were replaced: one at or below its own of the n doubles at `least`
 * becomes `dependent`, so large that its column vanishes. Blocked, from the left (Golub and Van Loan 2013, § 4.2): the diagonal and what stands below it are
 * the factor, what stands above may be spoilt.
 */
export function factor(n: i32, a: usize, lda: i32, least: usize, dependent: f64): i32 {
  let found = 0;
  for (let j = 0; j < n; j += BLOCK) {
    const w = min(BLOCK, n - j);
    const row = a + (<usize>(j * lda) << 3);
    const diagonal = row + (<usize>j << 3);
    if (j > 0) product(n - j, w, j, -1, row, lda, 1, row, 1, lda, diagonal, lda);
    found += factorSmall(w, diagonal, lda, least + (<usize>j << 3), dependent);
    const below = n - j - w;
    if (below > 0) solveSmall(below, w, diagonal, lda, diagonal + (<usize>(w * lda) << 3), lda, true);
  }
  return found;
}

/** B := B L⁻¹, from the last columns to the first. */
export function solveRightPlain(m: i32, n: i32, l: usize, ldl: i32, b: usize, ldb: i32): void {
  const last = ((n - 1) / BLOCK) * BLOCK;
  for (let j = last; j >= 0; j -= BLOCK) {
    const w = min(BLOCK, n - j);
    const diagonal = l + (<usize>(j * ldl + j) << 3);
    const bj = b + (<usize>j << 3);
    const rest = n - j - w;
    if (rest > 0) product(m, w, rest, -1, bj + (<usize>w << 3), ldb, 1, diagonal + (<usize>(w * ldl) << 3), ldl, 1, bj, ldb);
    solveSmall(m, w, diagonal, ldl, bj, ldb, false);
  }
}

/** (L L')⁻¹ = L⁻' L⁻¹, both triangles, into `out` (n × n). L is spoilt: L⁻¹ takes its place. */
export function invertFactor(n: i32, l: usize, ldl: i32, out: usize, ldo: i32): void {
  // L⁻¹ = I L⁻¹, row after row of blocks: the identity goes in and is solved from the right
  for (let i = 0; i < n; i++) {
    memory.fill(out + (<usize>(i * ldo) << 3), 0, <usize>n << 3);
    f64.store(out + (<usize>(i * ldo + i) << 3), 1);
  }
  for (let i = 0; i < n; i += BLOCK) {
    const w = min(BLOCK, n - i);
    solveRightPlain(w, i + w, l, ldl, out + (<usize>(i * ldo) << 3), ldo);
  }
  for (let i = 0; i < n; i++) {
    memory.copy(l + (<usize>(i * ldl) << 3), out + (<usize>(i * ldo) << 3), <usize>n << 3);
    memory.fill(out + (<usize>(i * ldo) << 3), 0, <usize>n << 3);
  }
  for (let i = 0; i < n; i += BLOCK) {
    // columns i … of L⁻¹ have zeros above row i
    const w = min(BLOCK, n - i);
    const from = l + (<usize>(i * ldl) << 3);
    product(w, i + w, n - i, 1, from + (<usize>i << 3), 1, ldl, from, ldl, 1, out + (<usize>(i * ldo) << 3), ldo);
  }
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) {
      f64.store(out + (<usize>(j * ldo + i) << 3), f64.load(out + (<usize>(i * ldo + j) << 3)));
    }
  }
}

/** Whether columns stand in pairs side by side (c, c + 1), so that two doubles can be moved at once. */
function inPairs(n: i32, columns: usize): bool {
  if (n & 1) return false;
  for (let j = 0; j < n; j += 2) {
    const at = columns + (<usize>j << 2);
    if (i32.load(at, 4) !== i32.load(at) + 1) return false;
  }
  return true;
}

/** C[rows[i], columns[j]] += A[i, j], A m × n packed; rows and columns are 32-bit integers in memory. */
export function scatterAdd(m: i32, n: i32, a: usize, c: usize, ldc: i32, rows: usize, columns: usize): void {
  const pairs = inPairs(n, columns);
  for (let i = 0; i < m; i++) {
    const into = c + (<usize>(i32.load(rows + (<usize>i << 2)) * ldc) << 3);
    let from = a + (<usize>(i * n) << 3);
    if (pairs) {
      for (let j = 0; j < n; j += 2) {
        const at = into + (<usize>i32.load(columns + (<usize>j << 2)) << 3);
        v128.store(at, f64x2.add(v128.load(at), v128.load(from)));
        from += 16;
      }
    } else {
      for (let j = 0; j < n; j++) {
        const at = into + (<usize>i32.load(columns + (<usize>j << 2)) << 3);
        f64.store(at, f64.load(at) + f64.load(from));
        from += 8;
      }
    }
  }
}

/** A[i, j] = C[rows[i], columns[j]]. */
export function gather(m: i32, n: i32, a: usize, c: usize, ldc: i32, rows: usize, columns: usize): void {
  const pairs = inPairs(n, columns);
  for (let i = 0; i < m; i++) {
    const source = c + (<usize>(i32.load(rows + (<usize>i << 2)) * ldc) << 3);
    let to = a + (<usize>(i * n) << 3);
    if (pairs) {
      for (let j = 0; j < n; j += 2) {
        v128.store(to, v128.load(source + (<usize>i32.load(columns + (<usize>j << 2)) << 3)));
        to += 16;
      }
    } else {
      for (let j = 0; j < n; j++) {
        f64.store(to, f64.load(source + (<usize>i32.load(columns + (<usize>j << 2)) << 3)));
        to += 8;
      }
    }
  }
}

/**
 * C[rows[i], columns[j]] −= Σ_p A[i, p] A[j, p] for the m rows of A and the first n of them, few p (wider ones are worth packing); of the rows
 * i < n little more than j ≤ i, which is all that is ever read.
 */
export function scatterOuter(
  m: i32, n: i32, k: i32, a: usize, lda: i32, c: usize, ldc: i32, rows: usize, columns: usize,
): void {
  const width = <usize>n << 3;
  for (let p = 0; p < k; p++) {
    const to = bufferB + <usize>p * width;
    for (let j = 0; j < n; j++) f64.store(to + (<usize>j << 3), f64.load(a + (<usize>(j * lda + p) << 3)));
  }
  const pairs = inPairs(n, columns);
  for (let i = 0; i < m; i++) {
    const row = a + (<usize>(i * lda) << 3);
    const into = c + (<usize>(i32.load(rows + (<usize>i << 2)) * ldc) << 3);
    if (!pairs) {
      const stop = min(n, i + 1);
      for (let j = 0; j < stop; j++) {
        let sum: f64 = 0;
        for (let p = 0; p < k; p++)
          sum += f64.load(row + (<usize>p << 3)) * f64.load(bufferB + <usize>p * width + (<usize>j << 3));
        const at = into + (<usize>i32.load(columns + (<usize>j << 2)) << 3);
        f64.store(at, f64.load(at) - sum);
      }
    } else if (k === 2) {
      const stop = min(n, i + 2);
      const a0 = v128.load64_splat(row), a1 = v128.load64_splat(row, 8);
      for (let j = 0; j < stop; j += 2) {
        const b = bufferB + (<usize>j << 3);
        const sum = f64x2.add(f64x2.mul(a0, v128.load(b)), f64x2.mul(a1, v128.load(b + width)));
        const at = into + (<usize>i32.load(columns + (<usize>j << 2)) << 3);
        v128.store(at, f64x2.sub(v128.load(at), sum));
      }
    } else {
      const stop = min(n, i + 2);
      for (let j = 0; j < stop; j += 2) {
        let b = bufferB + (<usize>j << 3);
        let sum = f64x2.splat(0);
        for (let p = 0; p < k; p++) {
          sum = f64x2.add(sum, f64x2.mul(v128.load64_splat(row + (<usize>p << 3)), v128.load(b)));
          b += width;
        }
        const at = into + (<usize>i32.load(columns + (<usize>j << 2)) << 3);
        v128.store(at, f64x2.sub(v128.load(at), sum));
      }
    }
  }
}
