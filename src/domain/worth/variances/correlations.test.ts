import { expect, test } from 'vitest';
import { inverseOf, multiply, type Square } from '#numeric/dense/small-matrix.ts';
import { correlationsOf } from './correlations.ts';
import { type Parameter, parametersOf } from './forms.ts';

/** How G and R move with a parameter: 1 in its place and its mirror. */
const turned = ({ row, column }: Parameter, size: number): Square =>
  Float64Array.from({ length: size * size }, (_, k) =>
    k === row * size + column || k === column * size + row ? 1 : 0,
  );

/** Information of m independent draws with covariance a: m/2 tr(a⁻¹ ∂a a⁻¹ ∂a). */
function informationOfDraws(given: { G: Square; R: Square }, traits: number, draws: number): Float64Array {
  const parameters = parametersOf(traits);
  const out = new Float64Array(parameters.length ** 2);
  for (const [i, one] of parameters.entries()) {
    for (const [j, other] of parameters.entries()) {
      if (one.of !== other.of) continue;
      const size = one.of === 'G' ? 2 * traits : traits;
      const inverse = inverseOf(given[one.of], size) as Square;
      const left = multiply(inverse, turned(one, size), size);
      const both = multiply(left, multiply(inverse, turned(other, size), size), size);
      for (let k = 0; k < size; k++)
        out[i * parameters.length + j] =
          (out[i * parameters.length + j] ?? 0) + (draws / 2) * (both[k * size + k] ?? 0);
    }
  }
  return out;
}

const G = Float64Array.of(6, -2, 0.5, 0.1, -2, 4, 0.2, 0.3, 0.5, 0.2, 0.3, -0.05, 0.1, 0.3, -0.05, 0.2);
const R = Float64Array.of(10, 0.4, 0.4, 0.5);

// Large-sample standard error of a correlation from n normal pairs: (1 − ρ²)/√n (Pearson and Filon 1898; any handbook of statistics)
test('values drawn directly have the textbook error of every correlation', () => {
  const draws = 400;
  const found = correlationsOf({ G, R }, 2, informationOfDraws({ G, R }, 2, draws));
  const expected = (a: Square, size: number, i: number, j: number) =>
    (a[i * size + j] ?? 0) / Math.sqrt((a[i * size + i] ?? 0) * (a[j * size + j] ?? 0));
  for (const [of, a, size] of [
    ['G', G, 4],
    ['R', R, 2],
  ] as const) {
    for (let i = 0; i < size; i++) {
      for (let j = 0; j < size; j++) {
        const r = expected(a, size, i, j);
        expect(found[of][i]?.[j]).toBeCloseTo(r, 12);
        if (i === j) expect(found.standardErrors[of][i]?.[j]).toBeNull();
        else expect(found.standardErrors[of][i]?.[j]).toBeCloseTo((1 - r * r) / Math.sqrt(draws), 10);
      }
    }
  }
});

test('without information, or with one that says nothing, there is no error to tell', () => {
  expect(correlationsOf({ G, R }, 2).standardErrors.R).toEqual([
    [null, null],
    [null, null],
  ]);
  const silent = correlationsOf({ G, R }, 2, new Float64Array(13 * 13));
  expect(silent.R[0]?.[1]).toBeCloseTo(0.4 / Math.sqrt(5), 12);
  expect(silent.standardErrors.G.flat().every((error) => error === null)).toBe(true);
});
