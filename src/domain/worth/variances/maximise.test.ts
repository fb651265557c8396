import { describe, expect, test } from 'vitest';
import { directPattern } from '#numeric/mixed/direct.ts';
import { oneTrait, simulatePedigree, simulateRecords } from '../../../../bench/_stock.ts';
import { denseLikelihood, simplexMaximum } from '../../../../tests/oracles/dense-maximum.ts';
import { descentOf } from '../descent.ts';
import { makeEquations } from '../equations.ts';
import { approach } from './approach.ts';
import { derivativesAt, pointAt } from './likelihood.ts';
import { maximise } from './maximise.ts';
import { sampledDerivatives } from './sampled.ts';
import { estimateVariances } from './variances.ts';

// Oracle: the likelihood by dense algebra, its maximum by a simplex search from four starts.
describe('on simulated stocks the dense maximum is reached', () => {
  test.each([1, 2, 3, 4])('stock %d', { timeout: 60_000 }, (seed) => {
    const pedigree = simulatePedigree({ queens: 80, mating: seed % 2 ? 'own' : 'shared', cohorts: 5, seed });
    const records = simulateRecords(pedigree, oneTrait, { seed: seed + 20, perYard: 10 });
    const equations = makeEquations(descentOf(pedigree), records, oneTrait);
    const found = maximise(equations, directPattern(equations.system), oneTrait);
    const f = denseLikelihood(pedigree, records);
    const [worker = 0, mixed = 0, , queen = 0] = found.model.G;
    expect(f([worker, mixed, queen, found.model.R[0] ?? 0])).toBeCloseTo(found.logLikelihood, 5);
    const starts = [
      [1, -0.3, 0.8, 2],
      [0.3, 0, 0.3, 3],
      [2, -1, 1, 1],
      [0.2, 0.1, 1.5, 2],
    ];
    const dense = simplexMaximum(f, starts, 90);
    expect(found.logLikelihood).toBeGreaterThan(dense.value - 1e-3);
    expect(found.converged).toBe(true);
  });
});

test('a few records are fitted all the same, and called unusable', () => {
  const pedigree = simulatePedigree({ queens: 60, mating: 'own', cohorts: 4 });
  const answer = estimateVariances(pedigree, simulateRecords(pedigree, oneTrait), oneTrait);
  expect(answer.usable).toBe(false);
  expect(answer.warnings.map((warning) => warning.code)).toContain('too-few-records');
  expect(answer.G[0]).toHaveLength(2);
  expect(Number.isFinite(answer.logLikelihood)).toBe(true);
});

test('a good many records give back what they were drawn from, within three standard errors', {
  timeout: 60_000,
}, () => {
  const pedigree = simulatePedigree({ queens: 2500, mating: 'own', cohorts: 6, seed: 4 });
  const answer = estimateVariances(pedigree, simulateRecords(pedigree, oneTrait, { seed: 5 }), oneTrait);
  for (const [i, j, truth] of [
    [0, 0, 1],
    [0, 1, -0.3],
    [1, 1, 0.8],
  ] as const) {
    const error = answer.standardErrors.G[i]?.[j] ?? 0;
    expect(Math.abs((answer.G[i]?.[j] ?? 99) - truth)).toBeLessThan(3 * error);
  }
  expect(Math.abs((answer.R[0]?.[0] ?? 99) - 2)).toBeLessThan(3 * (answer.standardErrors.R[0]?.[0] ?? 0));
  expect(answer.usable).toBe(true);
  const honey = answer.heritability.traits.yield;
  expect(honey?.total).toBeGreaterThan(0.2);
});

describe('drawn values instead of a factor', () => {
  const pedigree = simulatePedigree({ queens: 1500, mating: 'own', cohorts: 6, seed: 7 });
  const records = simulateRecords(pedigree, oneTrait, { seed: 8 });
  const equations = makeEquations(descentOf(pedigree), records, oneTrait);
  test('score and information agree with the exact ones, within four standard errors of the drawing', () => {
    const pattern = directPattern(equations.system);
    const exact = derivativesAt(pointAt(equations, pattern, oneTrait), pattern);
    const draws = 300;
    const drawn = sampledDerivatives(equations, oneTrait, { seed: 3, draws });
    // the variance of a score drawn from the model is the information: each element within 4 √(AI / draws)
    const n = 4;
    const scores = ({ score }: typeof exact) => [score.G[0], 2 * (score.G[1] ?? 0), score.G[3], score.R[0]].map(Number);
    for (const [k, value] of scores(drawn).entries()) {
      const error = Math.sqrt((exact.information[k * n + k] ?? 0) / draws);
      expect(Math.abs(value - (scores(exact)[k] ?? 9e9))).toBeLessThan(4 * error);
    }
    drawn.information.forEach((value, k) => {
      expect(value).toBeCloseTo(exact.information[k] ?? 9e9, 2);
    });
  });
  test('a start far off is left by EM steps: fifteen rounds end near the maximum', { timeout: 60_000 }, () => {
    const few = simulatePedigree({ queens: 600, mating: 'shared', cohorts: 5, seed: 2 });
    const far = { ...oneTrait, G: Float64Array.from([20, -15, -15, 30]), R: Float64Array.from([0.1]) };
    const given = makeEquations(descentOf(few), simulateRecords(few, oneTrait, { seed: 22, perYard: 10 }), far);
    const pattern = directPattern(given.system);
    const best = maximise(given, pattern, oneTrait).logLikelihood;
    const { model } = approach(given, far, { seed: 1, draws: 20, mostIterations: 15, tolerance: 0.02 });
    // sampling loses parameters / (2 draws) = 0.1 on average; cut Newton steps alone are still 87 below
    expect(best - pointAt(given, pattern, model).logLikelihood).toBeLessThan(1);
  });
  test('the estimate is the exact one, nearly', { timeout: 60_000 }, () => {
    const exact = estimateVariances(pedigree, records, oneTrait);
    const told: (readonly [number, number | null])[] = [];
    const drawn = estimateVariances(pedigree, records, oneTrait, {
      mostOperations: 0,
      fewOperations: 0,
      draws: 400,
      progress: (iteration, logLikelihood) => {
        told.push([iteration, logLikelihood]);
        return undefined;
      },
    });
    // every step on drawn values is told, in one count
    expect(told.length).toBeGreaterThan(3);
    expect(told).toEqual(told.map((_, k) => [k + 1, null]));
    expect(drawn.warnings.map((warning) => warning.code)).toContain('sampled');
    expect(drawn.logLikelihood).toBeNull();
    const pattern = directPattern(equations.system);
    const at = { ...oneTrait, G: Float64Array.from(drawn.G.flat()), R: Float64Array.from(drawn.R.flat()) };
    // expected loss: parameters / (2 draws) = 0.005
    expect((exact.logLikelihood ?? 0) - pointAt(equations, pattern, at).logLikelihood).toBeLessThan(0.02);
    expect(
      estimateVariances(pedigree, records, oneTrait, { mostOperations: 0, fewOperations: 0, draws: 400 }).G,
    ).toEqual(drawn.G);
  });
});
