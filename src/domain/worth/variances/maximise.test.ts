import { describe, expect, test } from 'vitest';
import { directPattern } from '#numeric/mixed/direct.ts';
import { oneTrait, simulatePedigree, simulateRecords } from '../../../../bench/stock.ts';
import { denseLikelihood, simplexMaximum } from '../../../../tests/oracles/dense-maximum.ts';
import { descentOf } from '../descent.ts';
import { makeEquations } from '../equations.ts';
import { maximise } from './maximise.ts';
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
