import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { betaBinomialLog, fitBetaSpread, shrink } from './beta-binomial.ts';
import { shrinkFew } from './few-groups.ts';
import { fisherExact } from './fisher-exact.ts';
import { kaplanMeier } from './kaplan-meier.ts';
import { averageRun, failureStep, walkRun } from './run-line.ts';

const tallyArb = fc
  .integer({ min: 1, max: 40 })
  .chain((trials) => fc.integer({ min: 0, max: trials }).map((successes) => ({ successes, trials })));

describe('the Beta behind several shares', () => {
  it('is the top of the likelihood wherever it lies: no neighbour is likelier', () => {
    fc.assert(
      fc.property(fc.array(tallyArb, { minLength: 2, maxLength: 12 }), (tallies) => {
        const fit = fitBetaSpread(tallies);
        if (fit.mean === 0 || fit.mean === 1) return;
        const spread = Math.max(fit.spread, 1e-9);
        const log = (mean: number, wide: number) =>
          tallies.reduce(
            (sum, { successes, trials }) => sum + betaBinomialLog(successes, trials, mean / wide, (1 - mean) / wide),
            0,
          );
        const top = log(fit.mean, Math.max(spread, 1e-5));
        for (const factor of [0.9, 1.1]) {
          if (fit.spread > 1e-5) expect(log(fit.mean, spread * factor)).toBeLessThanOrEqual(top + 1e-7);
          const mean = fit.mean + (factor - 1) * Math.min(fit.mean, 1 - fit.mean);
          expect(log(mean, Math.max(spread, 1e-5))).toBeLessThanOrEqual(top + 1e-4);
        }
      }),
      { numRuns: 200 },
    );
  });

  it('gives one rate to groups that agree, and stays at all or none', () => {
    const alike = [1, 2, 3].map(() => ({ successes: 8, trials: 10 }));
    expect(fitBetaSpread(alike)).toEqual({ mean: 0.8, spread: 0 });
    expect(shrink({ successes: 0, trials: 3 }, { mean: 0.8, spread: 0 })).toBe(0.8);
    expect(fitBetaSpread([{ successes: 4, trials: 4 }]).mean).toBe(1);
    expect(() => fitBetaSpread([])).toThrow(RangeError);
  });

  it('draws a small group further than a large one', () => {
    const fit = { mean: 0.8, spread: 0.1 };
    expect(shrink({ successes: 1, trials: 2 }, fit)).toBeGreaterThan(shrink({ successes: 20, trials: 40 }, fit));
  });
});

describe('a few groups under a prior', () => {
  const prior = { mean: [8.5, 1.5], correlation: [1, 9] } as const;

  it('lie between their own share and what is believed, and keep their order', () => {
    const [low = 0, high = 0] = shrinkFew(
      [
        { successes: 3, trials: 10 },
        { successes: 9, trials: 10 },
      ],
      prior,
    );
    expect(low).toBeGreaterThan(0.3);
    expect(low).toBeLessThan(high);
    expect(high).toBeLessThan(0.9);
  });

  it('follow the counts when there are many', () => {
    const [one = 0] = shrinkFew([{ successes: 500, trials: 1000 }], prior);
    expect(one).toBeCloseTo(0.5, 1);
  });

  it('agree with a hand-made posterior where groups cannot differ: (8.5 + 7)/(10 + 9)', () => {
    const [one = 0] = shrinkFew([{ successes: 7, trials: 9 }], { mean: [8.5, 1.5], correlation: [1, 9e6] });
    expect(one).toBeCloseTo(15.5 / 19, 2);
  });
});

describe('a survival curve', () => {
  it('without losses has no steps, and after the last loss of all says nothing about its range', () => {
    expect(kaplanMeier([{ time: 5, happened: false }])).toEqual([]);
    expect(kaplanMeier([{ time: 5, happened: true }])).toMatchObject([{ share: 0, atRisk: 1, low: null, high: null }]);
  });

  it('without censoring is the plain share still there', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 30 }), { minLength: 1, maxLength: 40 }), (times) => {
        const steps = kaplanMeier(times.map((time) => ({ time, happened: true })));
        for (const step of steps)
          expect(step.share).toBeCloseTo(times.filter((time) => time > step.time).length / times.length, 10);
      }),
    );
  });

  it('keeps those watched to the very day at risk on it', () => {
    const steps = kaplanMeier([
      { time: 5, happened: true },
      { time: 5, happened: false },
    ]);
    expect(steps[0]).toMatchObject({ atRisk: 2, share: 0.5 });
  });
});

describe('a run line', () => {
  it('rises by the failure step, falls by one, never below zero, and starts again after a signal', () => {
    const failed = [false, true, false, true, true, true, false];
    expect(walkRun(failed, { failure: 4, signal: 12 })).toEqual({ heights: [0, 4, 3, 7, 11, 15, 0], signals: [6] });
  });

  it('takes 4 for one failure in ten against three, and refuses rates out of order', () => {
    expect(failureStep(0.1, 0.3)).toBe(4);
    expect(() => failureStep(0.3, 0.1)).toThrow(RangeError);
  });

  it('never signals without failures, and after as many as it takes when all fail', () => {
    expect(averageRun(0, { failure: 4, signal: 12 })).toBe(Number.POSITIVE_INFINITY);
    expect(averageRun(1, { failure: 4, signal: 12 })).toBeCloseTo(3, 12);
  });
});

describe('the chance alone of a difference', () => {
  it('is 1 for equal shares and small for opposite ones, the same from both sides', () => {
    expect(fisherExact({ a: 5, m: 10, b: 5, n: 10 })).toBeCloseTo(1, 12);
    expect(fisherExact({ a: 10, m: 10, b: 0, n: 10 })).toBeCloseTo(2 / 184_756, 12);
    expect(fisherExact({ a: 7, m: 9, b: 41, n: 52 })).toBeCloseTo(fisherExact({ a: 41, m: 52, b: 7, n: 9 }), 12);
    expect(fisherExact({ a: 0, m: 0, b: 3, n: 5 })).toBe(1);
  });
});
