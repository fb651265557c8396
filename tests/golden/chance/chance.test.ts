import { describe, expect, it } from 'vitest';
import { atLeast, binomialProbability, leastTrials } from '#numeric/chance/binomial.ts';
import { betaQuantile, incompleteBeta, incompleteBetaAbove } from '#numeric/chance/incomplete-beta.ts';
import { gammaQuantile, incompleteGamma, incompleteGammaAbove } from '#numeric/chance/incomplete-gamma.ts';
import { logGamma } from '#numeric/chance/log-gamma.ts';
import { clopperPearson } from '#numeric/intervals/clopper-pearson.ts';
import { jeffreys } from '#numeric/intervals/jeffreys.ts';
import { poissonExact } from '#numeric/intervals/poisson-exact.ts';
import { wilson } from '#numeric/intervals/wilson.ts';
import golden from './chance.json';

/** Largest relative error of `found` against the last column(s); absolute below 1e-300, where scipy itself underflows. */
const errorOf = (found: number, expected: number) => Math.abs(found - expected) / Math.max(Math.abs(expected), 1e-300);
const worst = (rows: readonly number[][], error: (row: number[]) => number) => Math.max(...rows.map(error));
const at = (row: readonly number[], i: number) => row[i] ?? Number.NaN;

describe('special functions against scipy 1.17.1', () => {
  it('ln Γ to 1e-13', () => {
    expect(worst(golden.logGamma, (row) => errorOf(logGamma(at(row, 0)), at(row, 1)))).toBeLessThan(1e-13);
  });

  it('incomplete beta to 1e-11, its upper tail agreeing (1e-9 below 1e-100, where both lose digits)', () => {
    const error = ([a = 0, b = 0, x = 0, expected = 0]: number[]) =>
      errorOf(incompleteBeta(a, b, x), expected) * (expected < 1e-100 ? 0.01 : 1);
    expect(worst(golden.incompleteBeta, error)).toBeLessThan(1e-11);
    const sum = ([a = 0, b = 0, x = 0]: number[]) =>
      Math.abs(incompleteBeta(a, b, x) + incompleteBetaAbove(a, b, x) - 1);
    expect(worst(golden.incompleteBeta, sum)).toBeLessThan(1e-11);
  });

  it('beta quantiles to 1e-11', () => {
    const error = ([p = 0, a = 0, b = 0, expected = 0]: number[]) => errorOf(betaQuantile(p, a, b), expected);
    expect(worst(golden.betaQuantile, error)).toBeLessThan(1e-11);
  });

  it('incomplete gamma, both tails, to 1e-11', () => {
    const error = ([a = 0, x = 0, below = 0, above = 0]: number[]) =>
      Math.max(errorOf(incompleteGamma(a, x), below), errorOf(incompleteGammaAbove(a, x), above));
    const seen = golden.incompleteGamma.filter((row) => at(row, 2) > 1e-290 && at(row, 3) > 1e-290);
    expect(seen.length).toBeGreaterThan(40);
    expect(worst(seen, error)).toBeLessThan(1e-11);
  });

  it('gamma quantiles to 1e-12', () => {
    const error = ([p = 0, a = 0, expected = 0]: number[]) => errorOf(gammaQuantile(p, a), expected);
    expect(worst(golden.gammaQuantile, error)).toBeLessThan(1e-12);
  });
});

describe('counts against scipy 1.17.1', () => {
  it('binomial probabilities to 1e-12 and tails to 1e-11', () => {
    const error = ([k = 0, n = 0, p = 0, one = 0, tail = 0]: number[]) =>
      Math.max(errorOf(binomialProbability(k, n, p), one) / 10, errorOf(atLeast(k, n, p), tail));
    expect(worst(golden.binomial, error)).toBeLessThan(1e-11);
  });

  it('the least number to begin with, exactly', () => {
    for (const [k = 0, p = 0, sure = 0, n = 0] of golden.leastTrials) expect(leastTrials({ k, p, sure })).toBe(n);
  });

  it.each(golden.counts)(
    'intervals of %d of %d to 1e-9 (Wilson to the six digits of z = 1.959964)',
    (x, n, ...ends) => {
      const found = [wilson(x, n), clopperPearson(x, n), jeffreys(x, n)].flatMap(({ low, high }) => [low, high]);
      found.forEach((end, i) => {
        expect(Math.abs(end - at(ends, i))).toBeLessThan(i < 2 ? 1e-7 : 1e-9);
      });
    },
  );

  it('exact Poisson intervals to 1e-11', () => {
    for (const [k = 0, low = 0, high = 0] of golden.poissonExact) {
      expect(errorOf(poissonExact(k).high, high)).toBeLessThan(1e-11);
      expect(Math.abs(poissonExact(k).low - low)).toBeLessThan(1e-11 * (1 + low));
    }
  });
});

describe('intervals against R 4.2 (qbeta, Wilson by its formula), printed to five digits', () => {
  const rows: [number, number, number[]][] = [
    [8, 10, [0.49016, 0.94332, 0.4439, 0.97479, 0.49723, 0.95594]],
    [17, 20, [0.63958, 0.94763, 0.62107, 0.96793, 0.65142, 0.95587]],
    [0, 12, [0, 0.24249, 0, 0.26465, 0, 0.18531]],
    [12, 12, [0.75751, 1, 0.73535, 1, 0.81469, 1]],
    [43, 50, [0.73814, 0.93049, 0.7326, 0.94181, 0.74467, 0.93513]],
  ];
  it.each(rows)('%d of %d', (x, n, ends) => {
    const found = [wilson(x, n), clopperPearson(x, n), jeffreys(x, n)].flatMap(({ low, high }) => [low, high]);
    found.forEach((end, i) => {
      expect(end).toBeCloseTo(at(ends, i), 5);
    });
  });

  it('Wilson of cells alive, 84/100, 168/200, 420/500 and splits 154/177 (worked by hand from the formula)', () => {
    expect(wilson(84, 100)).toMatchObject({ low: expect.closeTo(0.756, 3), high: expect.closeTo(0.899, 3) });
    expect(wilson(168, 200)).toMatchObject({ low: expect.closeTo(0.783, 3), high: expect.closeTo(0.884, 3) });
    expect(wilson(420, 500)).toMatchObject({ low: expect.closeTo(0.805, 3), high: expect.closeTo(0.87, 3) });
    expect(wilson(154, 177)).toMatchObject({ low: expect.closeTo(0.8126, 4), high: expect.closeTo(0.9118, 4) });
  });
});
