/** Small square blocks kept one after another in a long array: `q × q` numbers, rows first, from a place on. */

/**
 * Inverse of the symmetric positive definite block at `at`, in its place; `false` when it is not (a pivot below 1e-14 of its diagonal). `room`: 2q²
 * numbers.
 * Gauss and Jordan's elimination; q from 1 on.
 * @example const a = Float64Array.of(2, 1, 1, 2); invertInPlace(a, 0, 2, new Float64Array(8)); a // [2 / 3, -1 / 3, -1 / 3, 2 / 3]
 */
export function invertInPlace(a: Float64Array, at: number, q: number, room: Float64Array): boolean {
  if (q === 2) {
    const x = a[at] as number;
    const y = a[at + 1] as number;
    const z = a[at + 3] as number;
    const determinant = x * z - y * y;
    if (!(x > 0 && determinant > 1e-14 * x * z)) return false;
    a[at] = z / determinant;
    a[at + 1] = -y / determinant;
    a[at + 2] = -y / determinant;
    a[at + 3] = x / determinant;
    return true;
  }
  return invertByFactor(a, at, q, room);
}

/** The same by the Cholesky factor: L in the first half of `room`, its inverse in the second. */
function invertByFactor(a: Float64Array, at: number, q: number, room: Float64Array): boolean {
  const half = q * q;
  for (let j = 0; j < q; j++) {
    let sum = a[at + j * q + j] as number;
    for (let k = 0; k < j; k++) sum -= (room[j * q + k] as number) ** 2;
    if (!(sum > 1e-14 * (a[at + j * q + j] as number))) return false;
    const root = Math.sqrt(sum);
    room[j * q + j] = root;
    for (let i = j + 1; i < q; i++) {
      let value = a[at + i * q + j] as number;
      for (let k = 0; k < j; k++) value -= (room[i * q + k] as number) * (room[j * q + k] as number);
      room[i * q + j] = value / root;
    }
  }
  for (let j = 0; j < q; j++) {
    room[half + j * q + j] = 1 / (room[j * q + j] as number);
    for (let i = j + 1; i < q; i++) {
      let value = 0;
      for (let k = j; k < i; k++) value -= (room[i * q + k] as number) * (room[half + k * q + j] as number);
      room[half + i * q + j] = value / (room[i * q + i] as number);
    }
  }
  for (let i = 0; i < q; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (let k = i; k < q; k++) sum += (room[half + k * q + i] as number) * (room[half + k * q + j] as number);
      a[at + i * q + j] = sum;
      a[at + j * q + i] = sum;
    }
  }
  return true;
}

/**
 * out[at …] = a[atA …] B, blocks of `q × q`; `out` may not overlap A or B.
 * @example const out = new Float64Array(4);
 * timesInto(Float64Array.of(1, 2, 3, 4), 0, Float64Array.of(0, 1, 1, 0), 2, out, 0); out // [2, 1, 4, 3]
 */
export function timesInto(
  a: Float64Array,
  atA: number,
  b: Float64Array,
  q: number,
  out: Float64Array,
  at: number,
): void {
  for (let i = 0; i < q; i++) {
    for (let j = 0; j < q; j++) {
      let v = 0;
      for (let k = 0; k < q; k++) v += (a[atA + i * q + k] as number) * (b[k * q + j] as number);
      out[at + i * q + j] = v;
    }
  }
}

/**
 * out[at …] −= A' b[atB …], blocks of `q × q`; `out` may not overlap A or B.
 * @example const out = new Float64Array(4);
 * subtractTransposed(Float64Array.of(1, 2, 3, 4), identity(2), 0, 2, out, 0); out // [-1, -3, -2, -4]
 */
export function subtractTransposed(
  a: Float64Array,
  b: Float64Array,
  atB: number,
  q: number,
  out: Float64Array,
  at: number,
): void {
  for (let i = 0; i < q; i++) {
    for (let j = 0; j < q; j++) {
      let v = 0;
      for (let k = 0; k < q; k++) v += (a[k * q + i] as number) * (b[atB + k * q + j] as number);
      out[at + i * q + j] = (out[at + i * q + j] as number) - v;
    }
  }
}
