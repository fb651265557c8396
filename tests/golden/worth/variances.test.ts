import { describe, expect, test } from 'vitest';
import { descentOf } from '#domain/worth/descent.ts';
import { makeEquations } from '#domain/worth/equations.ts';
import { emStep } from '#domain/worth/variances/em-step.ts';
import { derivativesAt, pointAt } from '#domain/worth/variances/likelihood.ts';
import { likelihoodAtStart } from '#domain/worth/variances/variances.ts';
import { directPattern } from '#numeric/mixed/direct.ts';
import { evaluation } from './small-evaluation.ts';

const ONE = '{"traits":["honey"],"fixed":["yard:year"],"G":[[6,-2],[-2,4]],"R":[[10]]}';

// Source: README.md beside this file: dense algebra (both forms of the likelihood, numerical derivatives of the V form).
describe('the restricted likelihood of the small evaluation', () => {
  const { pedigree, records, model } = evaluation(ONE);
  test('its value at the start', () => {
    const answer = likelihoodAtStart(pedigree, records, model);
    expect(answer.logLikelihood).toBeCloseTo(-10.335611729, 9);
    expect(answer.converged).toBeNull();
  });
  test('score and average information', () => {
    const equations = makeEquations(descentOf(pedigree), records, model);
    const pattern = directPattern(equations.system);
    const { score, information } = derivativesAt(pointAt(equations, pattern, model), pattern);
    // covariances count twice: both off-diagonal elements move
    expect([score.G[0], 2 * (score.G[1] ?? 0), score.G[3], score.R[0]]).toEqual(
      [0.055876, 0.18795, 0.18594, 0.143067].map((value) => expect.closeTo(value, 6)),
    );
    const rows = [
      [0.002334, 0.007287, 0.0075, 0.005871],
      [0.007287, 0.02289, 0.023695, 0.017924],
      [0.0075, 0.023695, 0.024802, 0.01888],
      [0.005871, 0.017924, 0.01888, 0.022574],
    ];
    expect([...information]).toEqual(rows.flat().map((value) => expect.closeTo(value, 6)));
  });
  test('one step of the EM algorithm', () => {
    const equations = makeEquations(descentOf(pedigree), records, model);
    const pattern = directPattern(equations.system);
    const { G, R } = emStep(equations, model, derivativesAt(pointAt(equations, pattern, model), pattern).score);
    const digits = [6.083314, -1.921122, -1.921122, 4.282491].map((value) => expect.closeTo(value, 6));
    expect([...G]).toEqual(digits);
    expect([...R]).toEqual([expect.closeTo(14.768907, 6)]);
  });
  test('the likelihood never falls over EM steps, and G stays positive definite', () => {
    const equations = makeEquations(descentOf(pedigree), records, model);
    const pattern = directPattern(equations.system);
    let at = model;
    let before = Number.NEGATIVE_INFINITY;
    for (let step = 0; step < 40; step++) {
      const point = pointAt(equations, pattern, at);
      expect(point.logLikelihood).toBeGreaterThan(before);
      before = point.logLikelihood;
      at = emStep(equations, at, derivativesAt(point, pattern).score);
      const [worker = 0, both = 0, , queen = 0] = at.G;
      expect(worker * queen - both * both).toBeGreaterThan(0);
      expect(at.R[0]).toBeGreaterThan(0);
    }
    expect(before).toBeGreaterThan(-10.335611729);
  });
});
