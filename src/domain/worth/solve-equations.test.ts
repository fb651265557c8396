import { describe, expect, test } from 'vitest';
import { denseEvaluation } from '../../../tests/oracles/dense-evaluation.ts';
import { randomCovariance, randomRecords } from '../../../tests/oracles/random-records.ts';
import { randomStock } from '../../../tests/oracles/random-stock.ts';
import type { Pedigree } from '../pedigree/laid-pedigree.ts';
import { layPedigreeOf } from '../pedigree/pedigree.ts';
import { descentOf } from './descent.ts';
import { makeEquations } from './equations.ts';
import type { Model } from './model.ts';
import { solveEquations } from './solve-equations.ts';

function stock(seed: number): Pedigree {
  const { pedigree } = layPedigreeOf(randomStock(seed, { founders: 6, rounds: 4, perRound: 8 }));
  if (pedigree === null) throw new Error('stock');
  return pedigree;
}
const model = (traits: number, seed: number): Model => ({
  traits: Array.from({ length: traits }, (_, t) => `t${t}`),
  fixed: [],
  G: randomCovariance(2 * traits, seed),
  R: randomCovariance(traits, seed + 100),
});

// Oracle: dense generalised least squares on single values (tests/oracles/dense-evaluation.ts).
describe.each([
  [1, 0, 0],
  [1, 0, 2],
  [2, 0.3, 1],
  [3, 0.4, 0],
])('%d traits, %d missing, %d further factors', (traits, missing, further) => {
  test.each([1, 2, 3, 4, 5, 6, 7, 8, 9, 10])(
    'stock %d: every effect of every queen and pool, and the fixed effects',
    (seed) => {
      const pedigree = stock(seed);
      const records = randomRecords(pedigree, { seed, traits, missing, further });
      const dense = denseEvaluation(pedigree, records, model(traits, seed));
      const equations = makeEquations(descentOf(pedigree), records, model(traits, seed));
      expect(equations.system.recursion.size).toBeLessThan(pedigree.recursion.size);
      const solved = solveEquations(equations);
      const q = 2 * traits;
      for (let node = 0; node < pedigree.recursion.size; node++) {
        for (let e = 0; e < q; e++) {
          expect(
            Math.abs((solved.effects[node * q + e] ?? 9e9) - dense.effects(node, e)),
            `node ${node} effect ${e}`,
          ).toBeLessThan(1e-6);
        }
      }
      const fixed = [...solved.leading, ...solved.further];
      dense.fixed.forEach((value, k) => {
        if (!Number.isNaN(value)) expect(Math.abs((fixed[k] ?? 9e9) - value), `fixed ${k}`).toBeLessThan(1e-6);
      });
    },
  );
});

// Absorption is exact: the parents-only equations and the full ones have the same solution.
test('with everything kept the answers are the same', () => {
  const pedigree = stock(11);
  const records = randomRecords(pedigree, { seed: 11, traits: 2, missing: 0.2 });
  const [small, full] = [{}, { absorb: false }].map((options) =>
    makeEquations(descentOf(pedigree), records, model(2, 11), options),
  );
  if (small === undefined || full === undefined) throw new Error('equations');
  expect(full.system.recursion.size).toBeGreaterThan(small.system.recursion.size);
  const [a, b] = [solveEquations(small).effects, solveEquations(full).effects];
  a.forEach((value, k) => {
    expect(Math.abs(value - (b[k] ?? 9e9))).toBeLessThan(1e-8);
  });
});
