import { describe, expect, test } from 'vitest';
import { assemble, directPattern, factorDirect, invertDirect, solveDirect } from '#numeric/mixed/direct.ts';
import { denseEvaluation } from '../../../tests/oracles/dense-evaluation.ts';
import { randomCovariance, randomRecords } from '../../../tests/oracles/random-records.ts';
import { randomStock } from '../../../tests/oracles/random-stock.ts';
import { layPedigreeOf } from '../pedigree/pedigree.ts';
import { descentOf } from './descent.ts';
import { makeEquations } from './equations.ts';
import { askedSets, eachPairError, exactOver } from './error-variances.ts';
import type { Model } from './model.ts';
import { solveEquations } from './solve-equations.ts';

// Oracle: dense generalised least squares (tests/oracles/dense-evaluation.ts).
describe.each([
  [1, 0, 0],
  [2, 0.3, 1],
])('%d traits', (traits, missing, further) => {
  test.each([1, 2, 3, 4, 5, 6])('stock %d: error covariances of every queen and her pool, recorded or not', (seed) => {
    const { pedigree } = layPedigreeOf(randomStock(seed, { founders: 6, rounds: 4, perRound: 6 }));
    if (pedigree === null) throw new Error('stock');
    const model: Model = {
      traits: Array(traits).fill('t'),
      fixed: [],
      G: randomCovariance(2 * traits, seed),
      R: randomCovariance(traits, seed + 50),
    };
    const records = randomRecords(pedigree, { seed, traits, missing, further, share: 0.6 });
    const dense = denseEvaluation(pedigree, records, model);
    const equations = makeEquations(descentOf(pedigree), records, model);
    const pattern = directPattern(equations.system, { asked: askedSets(equations) });
    assemble(equations.system, pattern);
    const factor = factorDirect(pattern);
    const direct = solveDirect(equations.system, pattern, factor, equations.system.observations.y);
    const iterated = solveEquations(equations);
    for (const [k, value] of direct.classes.entries()) expect(value).toBeCloseTo(iterated.leading[k] ?? 9e9, 7);
    for (const [k, value] of direct.levels.entries()) expect(value).toBeCloseTo(iterated.further[k] ?? 9e9, 7);
    const q = 2 * traits;
    let seen = 0;
    eachPairError(equations, exactOver(equations, invertDirect(factor)), (queen, error) => {
      seen++;
      const nodes = [pedigree.queenNode[queen] ?? -1, pedigree.carriedNode[queen] ?? -1];
      for (let e = 0; e < 2 * q; e++) {
        for (let f = 0; f < 2 * q; f++) {
          const exact = dense.error(nodes[Math.floor(e / q)] ?? -1, e % q, nodes[Math.floor(f / q)] ?? -1, f % q);
          expect(Math.abs((error[e * 2 * q + f] ?? 9e9) - exact), `queen ${queen}, ${e} ${f}`).toBeLessThan(1e-8);
        }
      }
    });
    expect(seen).toBe(pedigree.stock.columns.queens);
  });
});
