import { describe, expect, test } from 'vitest';
import { randomStream } from '../random/random-stream.ts';
import {
  choleskyInPlace,
  eigenOf,
  identity,
  inverseOf,
  inverseOfPart,
  logDeterminant,
  multiply,
  solveCholesky,
} from './small-matrix.ts';

/** B B' + ridge: positive definite. */
function positive(size: number, seed: number): Float64Array {
  const random = randomStream(seed);
  const b = Float64Array.from({ length: size * size }, () => random.normal());
  const a = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      let sum = i === j ? 0.1 : 0;
      for (let k = 0; k < size; k++) sum += (b[i * size + k] ?? 0) * (b[j * size + k] ?? 0);
      a[i * size + j] = sum;
    }
  }
  return a;
}
const largest = (a: Float64Array, b: Float64Array) =>
  a.reduce((most, value, i) => Math.max(most, Math.abs(value - (b[i] ?? 9e9))), 0);

describe.each([1, 2, 5, 20])('size %d', (size) => {
  const a = positive(size, size);
  test('the inverse is one', () => {
    const inverse = inverseOf(a, size) as Float64Array;
    expect(largest(multiply(a, inverse, size), identity(size))).toBeLessThan(1e-8);
  });
  test('a solution solves', () => {
    const l = a.slice();
    expect(choleskyInPlace(l, size)).toBe(true);
    const b = Float64Array.from({ length: size }, (_, i) => i + 1);
    const x = solveCholesky(l, size, b.slice());
    const back = Float64Array.from({ length: size }, (_, i) =>
      x.reduce((sum, v, k) => sum + v * (a[i * size + k] ?? 0), 0),
    );
    expect(largest(back, b)).toBeLessThan(1e-8);
  });
  test('eigenvalues rebuild it; their logarithms make the determinant', () => {
    const { values, vectors } = eigenOf(a, size);
    const scaled = vectors.map((v, at) => v * (values[at % size] ?? 0));
    const transposed = vectors.map((_, at) => vectors[(at % size) * size + Math.floor(at / size)] ?? 0);
    expect(largest(multiply(scaled, transposed, size), a)).toBeLessThan(1e-10 * size);
    const l = a.slice();
    choleskyInPlace(l, size);
    expect(logDeterminant(l, size)).toBeCloseTo(
      values.reduce((sum, v) => sum + Math.log(v), 0),
      8,
    );
  });
});

test('a matrix that is not positive definite is refused', () => {
  expect(inverseOf(Float64Array.of(1, 2, 2, 1), 2)).toBeNull();
  expect(choleskyInPlace(Float64Array.of(0), 1)).toBe(false);
  expect(choleskyInPlace(Float64Array.of(Number.NaN), 1)).toBe(false);
});

test('rows without weight stay out of a partial inverse', () => {
  expect([...inverseOfPart(Float64Array.of(4, 0, 0, 0), 2)]).toEqual([0.25, 0, 0, 0]);
});
