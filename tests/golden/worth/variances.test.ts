import { describe, expect, test } from 'vitest';
import { descentOf } from '#domain/worth/descent.ts';
import { makeEquations } from '#domain/worth/equations.ts';
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
});
