import { expect, test } from 'vitest';
import { uphillStep } from './uphill-step.ts';

test('on a hill the step is Newton’s', () => {
  // 2 × 2 by Cramer's rule: C⁻¹ s = (3·1 − 1·2, 2·2 − 1·1) / 5
  const found = uphillStep(Float64Array.of(2, 1, 1, 3), Float64Array.of(1, 2));
  expect(found?.isHill).toBe(true);
  expect(found?.step[0]).toBeCloseTo(1 / 5, 14);
  expect(found?.step[1]).toBeCloseTo(3 / 5, 14);
});

test('on a saddle or in a valley the step still leads up', () => {
  for (const curvature of [Float64Array.of(1, 3, 3, 1), Float64Array.of(-4, 0, 0, -1e8), new Float64Array(4)]) {
    const slope = Float64Array.of(0.3, -2);
    const found = uphillStep(curvature, slope);
    expect(found?.isHill).toBe(false);
    const up = slope.reduce((sum, value, k) => sum + value * (found?.step[k] as number), 0);
    expect(up).toBeGreaterThan(0);
  }
});

test('a curvature or slope that is no finite number has no way up, and ends at once', () => {
  for (const bad of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])
    for (let k = 0; k < 4; k++) {
      const curvature = Float64Array.of(2, 0, 0, 2).with(k, bad);
      expect(uphillStep(curvature, Float64Array.of(1, 1))).toBeNull();
      expect(uphillStep(Float64Array.of(2, 0, 0, 2), Float64Array.of(1, bad))).toBeNull();
    }
});

test('numbers whose squares are beyond all numbers end too, with a finite step or none', () => {
  for (const large of [1e160, 1e300, 1.7e308]) {
    const found = uphillStep(Float64Array.of(large, large, large, -large), Float64Array.of(1, 1));
    expect(found === null || found.step.every(Number.isFinite)).toBe(true);
  }
});
