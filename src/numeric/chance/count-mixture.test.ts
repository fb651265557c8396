import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { betaBinomialLog } from './beta-binomial.ts';
import { binomialProbability } from './binomial.ts';
import { addCounts, type CountChances, countAtLeast, countQuantile, meanCount } from './count-chances.ts';
import { leastToBegin, throughAtLeast, throughChances } from './count-mixture.ts';
import { known, leastThroughSteps, type Share as Step, stepThrough, throughSteps } from './count-steps.ts';
import { betaShapes, type Factor, meanOf } from './factor.ts';
import { factorProduct } from './factor-product.ts';

type Share = Extract<Factor, { kind: 'share' }>;
const shareArb = fc
  .record({
    mean: fc.double({ min: 0.2, max: 0.95, noNaN: true }),
    doubt: fc.double({ min: 0.05, max: 0.5, noNaN: true }),
  })
  .map(({ mean, doubt }): Share => ({ kind: 'share', mean, sd: doubt * Math.sqrt(mean * (1 - mean)) }));

/** Oracle: step by step, from m survivors to k with the beta-binomial probability. Exact, and slow. */
function chain(n: number, shares: readonly Share[]): CountChances {
  let now: CountChances = new Float64Array(n + 1);
  now[n] = 1;
  for (const { mean, sd } of shares) {
    const { a, b } = betaShapes(mean, sd);
    const next = new Float64Array(n + 1);
    for (let m = 0; m <= n; m++)
      for (let k = 0; k <= m; k++) next[k] = (next[k] ?? 0) + (now[m] ?? 0) * Math.exp(betaBinomialLog(k, m, a, b));
    now = next;
  }
  return now;
}

const cumulative = (chances: CountChances) => {
  let sum = 0;
  return Array.from(chances, (share) => (sum += share));
};
const farthest = (a: CountChances, b: CountChances) => {
  const other = cumulative(b);
  return Math.max(...cumulative(a).map((sum, i) => Math.abs(sum - (other[i] ?? 0))));
};

describe('how many come through step by step', () => {
  it('is the chain of beta-binomial probabilities, exactly', () => {
    fc.assert(
      fc.property(fc.array(shareArb, { minLength: 1, maxLength: 4 }), fc.integer({ min: 0, max: 60 }), (shares, n) => {
        expect(farthest(throughSteps(n, shares), chain(n, shares))).toBeLessThan(1e-11);
      }),
      { numRuns: 60, seed: 7 },
    );
  });

  it('goes on from what has been counted: 14 of 20 accepted', () => {
    const share: Step = { kind: 'point', value: 0.5 };
    expect(stepThrough(known(14), share)[7]).toBeCloseTo(binomialProbability(7, 14, 0.5), 14);
    expect(throughSteps(3, [{ kind: 'point', value: 1 }])[3]).toBe(1);
    expect(throughSteps(3, [{ kind: 'point', value: 0 }])[0]).toBe(1);
  });

  it('begins with the least number that is sure enough', () => {
    const shares: Step[] = [
      { kind: 'share', mean: 0.8, sd: 0.1 },
      { kind: 'share', mean: 0.9, sd: 0.05 },
    ];
    const n = leastThroughSteps({ k: 12, sure: 0.9, most: 500 }, shares);
    expect(countAtLeast(12, throughSteps(n, shares))).toBeGreaterThanOrEqual(0.9);
    expect(countAtLeast(12, throughSteps(n - 1, shares))).toBeLessThan(0.9);
    expect(leastThroughSteps({ k: 12, sure: 0.9, most: 13 }, shares)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe('how many of many come through several doubtful steps', () => {
  it('is the exact chain to 1e-3 in the distribution function while the share stays below 0.8', () => {
    fc.assert(
      fc.property(fc.array(shareArb, { minLength: 2, maxLength: 5 }), fc.integer({ min: 1, max: 250 }), (shares, n) => {
        fc.pre(shares.reduce((product, { mean }) => product * mean, 1) < 0.8);
        expect(farthest(throughChances(n, factorProduct(shares)), throughSteps(n, shares))).toBeLessThan(1e-3);
      }),
      { numRuns: 100, seed: 7 },
    );
  });

  it('keeps the mean exactly, and adds up to 1', () => {
    fc.assert(
      fc.property(fc.array(shareArb, { minLength: 1, maxLength: 6 }), fc.integer({ min: 0, max: 400 }), (shares, n) => {
        const chances = throughChances(n, factorProduct(shares));
        expect(chances.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 9);
        const mean = shares.reduce((product, share) => product * meanOf(share), n);
        expect(Math.abs(meanCount(chances) - mean)).toBeLessThan(1e-6 * (1 + mean) + 2e-3 * mean);
      }),
      { numRuns: 60, seed: 7 },
    );
  });

  it('is the plain binomial where nothing is in doubt', () => {
    const share = factorProduct([
      { kind: 'point', value: 0.8 },
      { kind: 'share', mean: 0.5, sd: 0 },
    ]);
    const chances = throughChances(30, share);
    chances.forEach((chance, k) => {
      expect(chance).toBeCloseTo(binomialProbability(k, 30, 0.4), 13);
    });
    expect(throughAtLeast(10, 30, share)).toBeCloseTo(countAtLeast(10, chances), 12);
  });

  it('all or none come through a share of one or nothing', () => {
    expect(throughChances(3, factorProduct([]))[3]).toBe(1);
    expect(throughChances(3, factorProduct([{ kind: 'point', value: 0 }]))[0]).toBe(1);
  });

  it('begins with the least number that is sure enough, and says when none is', () => {
    const share = factorProduct([{ kind: 'share', mean: 0.6, sd: 0.1 }]);
    const n = leastToBegin({ k: 12, sure: 0.9, most: 1000 }, share);
    expect(throughAtLeast(12, n, share)).toBeGreaterThanOrEqual(0.9);
    expect(throughAtLeast(12, n - 1, share)).toBeLessThan(0.9);
    expect(n).toBeGreaterThan(12 / 0.6);
    expect(leastToBegin({ k: 1, sure: 0.9, most: 1e6 }, factorProduct([{ kind: 'point', value: 0 }]))).toBe(
      Number.POSITIVE_INFINITY,
    );
    expect(leastToBegin({ k: 0, sure: 0.9, most: 10 }, share)).toBe(0);
  });

  it.each([0.03, 0.07, 0.9])('a chance that ties with the one asked for is enough: one of one at %d', (p) => {
    const share = factorProduct([{ kind: 'point', value: p }]);
    expect(leastToBegin({ k: 1, sure: p, most: 100 }, share)).toBe(1);
    expect(leastToBegin({ k: 2, sure: p * p, most: 100 }, share)).toBe(2);
  });
});

describe('a product of factors', () => {
  it('of a list and a size has their spread', () => {
    const list: Factor = { kind: 'list', values: [0.2, 0.4, 0], weights: [1, 2, 1] };
    const size: Factor = { kind: 'size', mean: 1.1, sd: 0.2 };
    const { values, weights } = factorProduct([list, size]);
    const mean = values.reduce((sum, value, i) => sum + value * (weights[i] ?? 0), 0);
    const square = values.reduce((sum, value, i) => sum + value * value * (weights[i] ?? 0), 0);
    expect(mean).toBeCloseTo(0.25 * 1.1, 9);
    expect(square).toBeCloseTo(((0.04 + 0.32) / 4) * (1.21 + 0.04), 4);
    expect(weights[0]).toBeCloseTo(0.25, 9);
    expect(values[0]).toBe(0);
  });
});

describe('two counts together', () => {
  it('of the same share are one count of both', () => {
    const share = factorProduct([{ kind: 'point', value: 0.3 }]);
    const both = addCounts(throughChances(10, share), throughChances(15, share));
    expect(farthest(both, throughChances(25, share))).toBeLessThan(1e-12);
  });

  it('have a quantile', () => {
    const chances = throughChances(20, factorProduct([{ kind: 'point', value: 0.5 }]));
    expect(countQuantile(0.5, chances)).toBe(10);
    expect(countQuantile(0, chances)).toBe(0);
    expect(countQuantile(1, chances)).toBe(20);
  });
});
