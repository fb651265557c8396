import { describe, expect, test } from 'vitest';
import { directPattern } from '#numeric/mixed/direct.ts';
import { denseEvaluation } from '../../../../tests/oracles/dense-evaluation.ts';
import { randomCovariance, randomRecords } from '../../../../tests/oracles/random-records.ts';
import { randomStock } from '../../../../tests/oracles/random-stock.ts';
import { layPedigreeOf } from '../../pedigree/pedigree.ts';
import { descentOf } from '../descent.ts';
import { makeEquations } from '../equations.ts';
import type { Model } from '../model.ts';
import { parametersOf } from './forms.ts';
import { derivativesAt, pointAt } from './likelihood.ts';

function changed(model: Model, of: 'G' | 'R', row: number, column: number, step: number): Model {
  const out = { ...model, G: model.G.slice(), R: model.R.slice() };
  const size = of === 'G' ? 2 * model.traits.length : model.traits.length;
  const add = (at: number) => {
    out[of][at] = (out[of][at] ?? 0) + step;
  };
  add(row * size + column);
  if (row !== column) add(column * size + row);
  return out;
}

// Oracles: the likelihood by dense algebra, its derivatives by differences of the likelihood.
describe.each([
  [1, 0, 0],
  [1, 0, 1],
  [2, 0.3, 0],
])('%d traits, %d missing, %d further factors', (traits, missing, further) => {
  test.each([1, 2, 3, 4])('stock %d', (seed) => {
    const { pedigree } = layPedigreeOf(randomStock(seed, { founders: 6, rounds: 3, perRound: 8 }));
    if (pedigree === null) throw new Error('stock');
    const model: Model = {
      traits: Array(traits).fill('t'),
      fixed: [],
      G: randomCovariance(2 * traits, seed),
      R: randomCovariance(traits, seed + 50),
    };
    const records = randomRecords(pedigree, { seed, traits, missing, further });
    const equations = makeEquations(descentOf(pedigree), records, model);
    const pattern = directPattern(equations.system);
    const value = (at: Model) => pointAt(equations, pattern, at).logLikelihood;
    expect(value(model)).toBeCloseTo(denseEvaluation(pedigree, records, model).logLikelihood, 8);
    const { score, information } = derivativesAt(pointAt(equations, pattern, model), pattern);
    const parameters = parametersOf(traits);
    for (const { of, row, column } of parameters) {
      const step = 1e-4;
      const slope =
        (value(changed(model, of, row, column, step)) - value(changed(model, of, row, column, -step))) / (2 * step);
      const size = of === 'G' ? 2 * traits : traits;
      const own = score[of][row * size + column] ?? 9e9;
      expect((row === column ? 1 : 2) * own, `${of} ${row} ${column}`).toBeCloseTo(slope, 5);
    }
    for (let i = 0; i < parameters.length; i++) expect(information[i * parameters.length + i]).toBeGreaterThan(0);
  });
});
