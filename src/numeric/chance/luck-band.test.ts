import { describe, expect, it } from 'vitest';
import { binomialProbability } from './binomial.ts';
import { luckBand } from './luck-band.ts';

/** The same by adding up single chances, slowly. */
function slowBand(n: number, p: number) {
  const chances = Array.from({ length: n + 1 }, (_, k) => binomialProbability(k, n, p));
  const upTo = (k: number) => chances.slice(0, k + 1).reduce((sum, one) => sum + one, 0);
  const from = (k: number) => chances.slice(k).reduce((sum, one) => sum + one, 0);
  const counts = Array.from({ length: n + 1 }, (_, k) => k);
  const low = counts.find((k) => upTo(k) > 0.025) ?? n;
  const high = [...counts].reverse().find((k) => from(k) > 0.025) ?? 0;
  return { low: low / n, high: high / n };
}

describe('what luck alone explains', () => {
  it('nine trials at 0.8: 5 to 9 (binomial table in any statistics textbook: P(X <= 4) = 0.0196, P(X <= 5) = 0.0856)', () => {
    expect(luckBand(9, 0.8)).toEqual({ low: 5 / 9, high: 1 });
  });

  it('is the same as adding up single chances', () => {
    for (const n of [1, 2, 5, 9, 40, 137])
      for (const p of [0, 0.05, 0.3, 0.8, 0.97, 1]) expect(luckBand(n, p), `${n} at ${p}`).toEqual(slowBand(n, p));
  });

  it('narrows with the number and always holds the rate', () => {
    const widths = [5, 20, 80, 320].map((n) => {
      const { low, high } = luckBand(n, 0.75);
      expect(low <= 0.75 && high >= 0.75).toBe(true);
      return high - low;
    });
    expect([...widths].sort((a, b) => b - a)).toEqual(widths);
  });

  it('throws on no trials', () => expect(() => luckBand(0, 0.5)).toThrow(RangeError));
});
