import { expect, test } from 'vitest';
import { positivePart } from './positive-part.ts';
import { covarianceWith, type Recursion } from './recursion.ts';

/** x4 = ½x0 + ½x1 without variance of its own, x5 = x4 the same, x6 = x5 + e, x7 = ½x4 + ½x6 without. */
const full: Recursion = {
  size: 8,
  start: Int32Array.of(0, 0, 0, 0, 1, 3, 4, 5, 7),
  older: Int32Array.of(2, 0, 1, 4, 5, 4, 6),
  weight: Float64Array.of(0.5, 0.5, 0.5, 1, 1, 0.5, 0.5),
  own: Float64Array.of(1, 2, 1, 0.75, 0, 1e-12, 0.3, 0),
  level: Int32Array.of(0, 0, 0, 1, 1, 2, 3, 4),
};

test('what is left has the same covariances, and the replaced rows are the same combinations', () => {
  const part = positivePart(full);
  expect([...part.from]).toEqual([0, 1, 2, 3, 6]);
  for (let j = 0; j < full.size; j++) {
    const column = covarianceWith(
      full,
      Float64Array.from({ length: full.size }, (_, i) => (i === j ? 1 : 0)),
    );
    const h = new Float64Array(part.recursion.size);
    for (let k = part.start[j] ?? 0; k < (part.start[j + 1] ?? 0); k++) h[part.row[k] ?? 0] = part.weight[k] ?? 0;
    const small = covarianceWith(part.recursion, h);
    for (let i = 0; i < full.size; i++) {
      let value = 0;
      for (let k = part.start[i] ?? 0; k < (part.start[i + 1] ?? 0); k++) {
        value += (part.weight[k] ?? 0) * (small[part.row[k] ?? 0] ?? 0);
      }
      expect(value).toBeCloseTo(column[i] ?? Number.NaN, 10);
    }
  }
});

test('a recursion in which every row has variance is left as it is', () => {
  const whole = { ...full, own: Float64Array.of(1, 1, 1, 1, 1, 1, 1, 1) };
  expect(positivePart(whole).recursion).toBe(whole);
});
