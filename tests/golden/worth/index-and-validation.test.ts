import { expect, test } from 'vitest';
import { recordIndex, weighed } from '#domain/worth/selection-index.ts';
import { compareValues, reliabilityWithout } from '#domain/worth/validation.ts';

// Worked example (dense algebra in numpy): own records on honey, calmness and hygiene.
test('the index of own records', () => {
  const P = Float64Array.of(100, 2, 3, 2, 0.5, 0.05, 3, 0.05, 40);
  const G = Float64Array.of(25, 1, 0.8, 1, 0.15, 0.02, 0.8, 0.02, 8);
  const found = recordIndex(P, G, Float64Array.of(1, 10, 0.6));
  const near = (value: number) => expect.closeTo(value, 6);
  expect([...(found?.weights ?? [])]).toEqual([0.272794, 3.920862, 0.119639].map(near));
  expect(found?.accuracy).toEqual(near(0.561758));
  expect([...(found?.response ?? [])]).toEqual([2.409768, 0.191982, 0.278809].map(near));
  expect(found?.goalResponse).toEqual(near(4.496869));
  expect(recordIndex(Float64Array.of(0), Float64Array.of(1), Float64Array.of(1))).toBeNull();
});

test('weights on breeding values', () => {
  expect(weighed({ honey: 4, calm: -0.2 }, { honey: 1, calm: 10 })).toBe(2);
  expect(weighed({ honey: 4 }, { wax: 3 })).toBe(0);
});

// Worked example (arithmetic): eight colonies, values without and with their records.
test('values without and with the records of the focal set', () => {
  const without = [0.8, -0.4, 1.2, 0.1, -0.9, 0.5, 0.3, -0.2];
  const withAll = [1.1, -0.3, 1.0, 0.4, -1.2, 0.2, 0.6, -0.5];
  const found = compareValues(without, withAll);
  expect(found.bias).toBeCloseTo(0.0125, 10);
  expect(found.dispersion).toBeCloseTo(1.086854, 6);
  expect(found.correlation).toBeCloseTo(0.932662, 6);
  expect(found.ratio).toBeCloseTo(0.800346, 6);
  expect(reliabilityWithout(without, withAll, { inbreeding: 0.02, coancestry: 0.03, variance: 2 })).toBeCloseTo(
    0.258371,
    6,
  );
});
