import { describe, expect, it } from 'vitest';
import { betaBinomialLog, fitBetaSpread, shrink } from '#numeric/chance/beta-binomial.ts';
import { fisherExact } from '#numeric/chance/fisher-exact.ts';
import { kaplanMeier } from '#numeric/chance/kaplan-meier.ts';
import { averageRun } from '#numeric/chance/run-line.ts';
import chance from '../chance/chance.json';
import golden from './outcome-statistics.json';

describe('six batches drawn together (R optim on the beta-binomial likelihood)', () => {
  const { batches } = golden;
  const tallies = batches.successes.map((successes, i) => ({ successes, trials: batches.trials[i] ?? 0 }));
  const fit = fitBetaSpread(tallies);
  const a = fit.mean / fit.spread;
  const b = (1 - fit.mean) / fit.spread;

  it('finds the most likely Beta', () => {
    expect(a).toBeCloseTo(batches.a, 4);
    expect(b).toBeCloseTo(batches.b, 4);
    expect(fit.mean).toBeCloseTo(batches.mean, 6);
    expect(fit.spread / (1 + fit.spread)).toBeCloseTo(batches.rho, 6);
    const log = tallies.reduce((sum, { successes, trials }) => sum + betaBinomialLog(successes, trials, a, b), 0);
    expect(log).toBeCloseTo(batches.logLikelihood, 5);
  });

  it('draws each batch towards the others', () => {
    tallies.forEach((tally, i) => {
      // R printed five digits, from a fit that stopped 1e-6 away in a and b.
      expect(Math.abs(shrink(tally, fit) - (batches.shrunken[i] ?? 0))).toBeLessThan(1e-5);
    });
  });
});

it('beta-binomial probabilities against scipy.stats.betabinom 1.17.1', () => {
  for (const [k = 0, n = 0, a = 0, b = 0, expected = 0] of chance.betaBinomial)
    expect(Math.exp(betaBinomialLog(k, n, a, b)) / expected).toBeCloseTo(1, 10);
});

it('the Kaplan-Meier curve of twelve queens with Greenwood errors (R survival)', () => {
  const { times, events, days, alive, standardErrors } = golden.survival;
  const steps = kaplanMeier(times.map((time, i) => ({ time, happened: events[i] === 1 })));
  expect(steps.map(({ time }) => time)).toEqual(days);
  steps.forEach((step, i) => {
    expect(step.share).toBeCloseTo(alive[i] ?? 0, 6);
    expect(step.standardError).toBeCloseTo(standardErrors[i] ?? 0, 6);
  });
});

/** Counts published by Harbo and Szabo: 59 inseminated and 59 naturally mated sisters, alive after about 9 and 12 months. */
it.each(golden.fisher)('Fisher exact, $a of $m against $b of $n (R fisher.test)', ({ p, ...counts }) => {
  expect(fisherExact(counts)).toBeCloseTo(p, 4);
});

it('mean lengths of run lines (numpy linear system)', () => {
  for (const [signal = 0, ...lengths] of golden.runLengths)
    lengths.forEach((length, i) => {
      expect(averageRun(golden.runRates[i] ?? 0, { failure: 4, signal })).toBeCloseTo(length, 3);
    });
});
