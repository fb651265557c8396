import { describe, expect, test } from 'vitest';
import { randomStream } from '../random/random-stream.ts';
import { bestShares, greedyShares, mostGain, type ShareProblem } from './shares.ts';

function problem(seed: number, n: number, groups: number, upper = 1): ShareProblem {
  const random = randomStream(seed);
  const rank = Math.max(1, Math.floor(n * 0.7)); // singular on purpose
  const b = Float64Array.from({ length: n * rank }, () => random.uniform());
  const K = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++)
      for (let k = 0; k < rank; k++)
        K[i * n + j] = (K[i * n + j] ?? 0) + ((b[i * rank + k] ?? 0) * (b[j * rank + k] ?? 0)) / rank;
  return {
    K,
    gain: Float64Array.from({ length: n }, () => random.normal()),
    group: Int32Array.from({ length: n }, (_, i) => i % groups),
    groups,
    upper: new Float64Array(n).fill(upper),
  };
}

/** Conditions of Karush, Kuhn and Tucker: within a group nothing that may still grow has a lower slope than something that may still shrink. */
function isOptimal({ K, gain, group, groups, upper }: ShareProblem, weight: number, z: Float64Array): boolean {
  const n = z.length;
  const slope = Array.from(z, (_, i) =>
    z.reduce((sum, v, j) => sum + v * (K[i * n + j] ?? 0), -weight * (gain[i] ?? 0)),
  );
  return Array.from({ length: groups }, (_, g) => g).every((g) => {
    const members = [...z.keys()].filter((i) => group[i] === g);
    const growing = members.filter((i) => (z[i] ?? 0) < (upper[i] ?? 0) - 1e-9).map((i) => slope[i] ?? 0);
    const shrinking = members.filter((i) => (z[i] ?? 0) > 1e-9).map((i) => slope[i] ?? 0);
    const sum = members.reduce((s, i) => s + (z[i] ?? 0), 0);
    return Math.abs(sum - 1) < 1e-9 && Math.max(...shrinking) - Math.min(...growing, Number.POSITIVE_INFINITY) < 1e-6;
  });
}

describe.each([
  [1, 4, 1, 1],
  [2, 20, 2, 1],
  [3, 60, 2, 0.15],
  [4, 150, 2, 0.05],
])('seed %d: %d variables in %d groups, at most %d each', (seed, n, groups, upper) => {
  const given = problem(seed, n, groups, upper);
  test.each([0, 0.01, 1, 50])('weight %d: nothing can be shifted to advantage', (weight) => {
    const z = bestShares(given, weight, greedyShares(given));
    expect(isOptimal(given, weight, z)).toBe(true);
    for (const [i, v] of z.entries()) expect(v >= -1e-12 && v <= (given.upper[i] ?? 0) + 1e-12).toBe(true);
  });
  test('the most gain under a limit meets the limit', () => {
    const least = mostGain(given, 0);
    const most = mostGain(given, 1e9);
    const limit = (least.form + most.form) / 2;
    const found = mostGain(given, limit);
    expect(found.form).toBeLessThanOrEqual(limit + 1e-12);
    expect(found.form).toBeCloseTo(limit, 7);
    expect(found.gain).toBeGreaterThan(least.gain);
    expect(found.gain).toBeLessThan(most.gain);
    expect(least.form).toBeGreaterThan(0);
  });
});

test('without any K the best one of each group is taken, and a K that is not finite is refused', () => {
  const given = { ...problem(5, 6, 2), K: new Float64Array(36) };
  const { z } = mostGain(given, 1);
  for (const g of [0, 1]) {
    const members = [...z.keys()].filter((i) => given.group[i] === g);
    const best = members.reduce((a, b) => ((given.gain[a] ?? 0) >= (given.gain[b] ?? 0) ? a : b));
    expect(z[best]).toBeCloseTo(1, 9);
  }
  for (const K of [
    given.K.map(() => Number.NaN),
    given.K.with(1, Number.NaN),
    given.K.with(0, Number.POSITIVE_INFINITY),
  ])
    expect(() => bestShares({ ...given, K }, 1, new Float64Array(6).fill(1 / 3))).toThrow('not finite');
});
