import { expect, test } from 'vitest';
import { breedingValues } from '#domain/worth/breeding-values.ts';
import { descentOf } from '#domain/worth/descent.ts';
import { makeEquations } from '#domain/worth/equations.ts';
import { evaluation } from './small-evaluation.ts';

const ONE = '{"traits":["honey"],"fixed":["yard:year"],"G":[[6,-2],[-2,4]],"R":[[10]]}';
const { pedigree, records, model } = evaluation(ONE);

// By hand, k = (½, 1) on worker and queen effect of the queen, 1 on the worker effect of her pool; k'Gk = ¼·6 − 2 + 4 = 3.5:
// Q1 and Q2 without daughters, d = .475: 10 + .475 · 3.5; Q3 has drones in a batch and stays, her open pool (1/24) goes: 10 + 6/24;
// Q4 and her open pool go, d = .25: 10 + .25 · 3.5 + 6/24. A and B stay with their pools: 10.
test('queens and pools without offspring leave their variance to the residual of their record', () => {
  const { system, kept } = makeEquations(descentOf(pedigree), records, model);
  const variances = Array.from(system.observations.weight, (weight) => 1 / weight).sort((a, b) => a - b);
  expect(variances).toEqual([10, 10, 10.25, 11.125, 11.6625, 11.6625].map((v) => expect.closeTo(v, 10)));
  // A, B, C, Q3, the two pools of A and B, and the batch
  expect(kept.filter((at) => at >= 0)).toHaveLength(7);
});

// Source: README.md beside this file, full model by dense algebra.
test('and come back with the values and error variances of the full model', () => {
  const { queens } = breedingValues(pedigree, records, model, { reliability: 'exact' });
  const of = (name: string) => queens.find(({ queen }) => queen === name);
  expect(of('Q4')?.workerEffect).toBeCloseTo(-0.353782, 6);
  expect(of('Q4')?.queenEffect).toBeCloseTo(-0.903567, 6);
  expect(of('Q4')?.pevWorker).toBeCloseTo(5.746296, 6);
  expect(of('Q4')?.pevQueen).toBeCloseTo(3.658619, 6);
});
