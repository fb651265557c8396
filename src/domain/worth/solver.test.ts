import { describe, expect, test } from 'vitest';
import { makeVector, rightHandSide } from '#numeric/mixed/operator.ts';
import { makeSolver } from '#numeric/mixed/solver.ts';
import { randomStream } from '#numeric/random/random-stream.ts';
import { randomCovariance, randomRecords } from '../../../tests/oracles/random-records.ts';
import { randomStock } from '../../../tests/oracles/random-stock.ts';
import { layPedigreeOf } from '../pedigree/pedigree.ts';
import { descentOf } from './descent.ts';
import { makeEquations } from './equations.ts';

function example(seed: number, traits: number, further: number) {
  const { pedigree } = layPedigreeOf(randomStock(seed, { founders: 6, rounds: 4, perRound: 9 }));
  if (pedigree === null) throw new Error('stock');
  const model = {
    traits: Array(traits).fill('t'),
    fixed: [],
    G: randomCovariance(2 * traits, seed),
    R: randomCovariance(traits, seed + 9),
  };
  const records = randomRecords(pedigree, { seed, traits, missing: traits > 1 ? 0.3 : 0, further });
  return makeEquations(descentOf(pedigree), records, model).system;
}

// Oracle: the plain twins (operator.ts and block-factor.ts), themselves checked through dense least squares in domain/worth.
describe.each([
  [1, 0],
  [1, 2],
  [2, 0],
  [3, 1],
  [5, 2],
])('%d traits, %d further factors', (traits, further) => {
  test.each([1, 2, 3])('seed %d: compiled and plain agree', (seed) => {
    const system = example(seed, traits, further);
    const compiled = makeSolver(system);
    const plain = makeSolver(system, { plain: true });
    expect([compiled.compiled, plain.compiled]).toEqual([true, false]);
    const random = randomStream(seed);
    const x = makeVector(system).map(() => random.normal());
    const outs = [compiled, plain].map((solver) => {
      const [product, conditioned, solution, b] = [
        makeVector(system),
        makeVector(system),
        makeVector(system),
        makeVector(system),
      ];
      solver.multiply(x, product);
      solver.precondition(x, conditioned);
      rightHandSide(solver.operator, system.observations.y, b);
      const solved = solver.solve(b, solution, { tolerance: 1e-11, mostIterations: 500 });
      return { product, conditioned, solution, solved };
    });
    const [a, b] = outs as [(typeof outs)[0], (typeof outs)[0]];
    const largest = (u: Float64Array, v: Float64Array) =>
      u.reduce((most, value, i) => Math.max(most, Math.abs(value - (v[i] ?? 9e9))), 0);
    const size = Math.max(...a.product.map(Math.abs));
    expect(largest(a.product, b.product)).toBeLessThan(1e-13 * size);
    // the compiled factor is kept in single precision
    expect(largest(a.conditioned, b.conditioned)).toBeLessThan(2e-5 * Math.max(...b.conditioned.map(Math.abs)));
    expect(largest(a.solution, b.solution)).toBeLessThan(1e-8);
    expect(a.solved.residual).toBeLessThanOrEqual(1e-11);
  });
});

test('nothing to solve gives nothing', () => {
  const system = example(1, 1, 0);
  const x = makeVector(system).fill(3);
  expect(makeSolver(system).solve(makeVector(system), x, { tolerance: 1e-9, mostIterations: 9 })).toEqual({
    iterations: 0,
    residual: 0,
  });
  expect(x.every((value) => value === 0)).toBe(true);
});
