import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { naturalLog } from './natural-log.ts';
import { randomFrom, randomStream } from './random-stream.ts';

test('xoshiro128**: the sequence of its reference code from state 1, 2, 3, 4', () => {
  // computed in Python integers from the published C code (prng.di.unimi.it/xoshiro128starstar.c)
  const stream = randomFrom([1, 2, 3, 4]);
  expect(Array.from({ length: 10 }, () => stream.bits())).toEqual([
    11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597, 4258142804,
  ]);
});

test('the same seed and stream give the same numbers; others do not', () => {
  const first = (seed: number, stream?: number) => randomStream(seed, stream).bits();
  expect(first(1)).toBe(first(1, 0));
  const words = new Set<number>();
  for (let seed = 0; seed < 200; seed++) for (let stream = 0; stream < 50; stream++) words.add(first(seed, stream));
  words.add(first(2 ** 40)).add(first(2 ** 41));
  expect(words.size).toBeGreaterThan(10_000);
});

/** Mean and variance of n draws as z-scores against what they must be. */
function zScores(draw: () => number, expected: { mean: number; variance: number; fourth: number }, n = 200_000) {
  let sum = 0;
  let squares = 0;
  for (let i = 0; i < n; i++) {
    const d = draw() - expected.mean;
    sum += d;
    squares += d * d;
  }
  const { variance, fourth } = expected;
  return [sum / n / Math.sqrt(variance / n), (squares / n - variance) / Math.sqrt((fourth - variance ** 2) / n)];
}

describe('moments, within 4 standard errors', () => {
  test('uniform', () => {
    for (const z of zScores(randomStream(11).uniform, { mean: 0.5, variance: 1 / 12, fourth: 1 / 80 })) {
      expect(Math.abs(z)).toBeLessThan(4);
    }
  });
  test('normal', () => {
    for (const z of zScores(randomStream(12).normal, { mean: 0, variance: 1, fourth: 3 })) {
      expect(Math.abs(z)).toBeLessThan(4);
    }
  });
  test('below: every number equally often (chi-square, 6 degrees of freedom, 0.1 % point 22.46)', () => {
    const counts = new Array<number>(7).fill(0);
    const stream = randomStream(13);
    for (let i = 0; i < 70_000; i++) {
      const k = stream.below(7);
      counts[k] = (counts[k] ?? 0) + 1;
    }
    expect(counts.reduce((sum, count) => sum + (count - 10_000) ** 2 / 10_000, 0)).toBeLessThan(22.46);
  });
});

test('naturalLog agrees with Math.log to rounding', () => {
  fc.assert(
    fc.property(fc.double({ min: 5e-324, max: 1.7e308, noNaN: true }), (x) => {
      const exact = Math.log(x);
      expect(Math.abs(naturalLog(x) - exact)).toBeLessThanOrEqual(4e-16 * Math.max(Math.abs(exact), 1e-300) + 1e-320);
    }),
    { numRuns: 5000, seed: 9 },
  );
  for (let x = 0.7; x < 1.5; x += 0.0001) expect(Math.abs(naturalLog(x) - Math.log(x))).toBeLessThan(2e-16);
  expect(naturalLog(1)).toBe(0);
});

test('naturalLog ends for every number, as Math.log does', () => {
  for (const x of [0, -0, -1, -5e-324, -1e308, Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])
    expect(naturalLog(x)).toBe(Math.log(x));
});
