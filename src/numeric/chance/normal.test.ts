import { expect, it } from 'vitest';
import { normalBelow, normalQuantile } from './normal.ts';

it('gives the printed quantiles of the normal distribution (Abramowitz and Stegun 1964, table 26.5), and back', () => {
  expect(normalQuantile(0.975)).toBeCloseTo(1.959964, 6);
  expect(normalQuantile(0.9)).toBeCloseTo(1.281552, 6);
  expect(normalQuantile(0.5)).toBeCloseTo(0, 8);
  for (const share of [1e-6, 0.01, 0.3, 0.999]) expect(normalBelow(normalQuantile(share))).toBeCloseTo(share, 9);
});
