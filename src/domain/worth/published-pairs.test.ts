import { expect, test } from 'vitest';
import { choleskyInPlace, eigenOf } from '#numeric/dense/small-matrix.ts';
import { evaluate } from './evaluation.ts';
import { modelOfTraits, publishedFor, publishedSets, variancesOf } from './published.ts';
import {
  nothingShared,
  pairsCannotBe,
  publishedPairOf,
  publishedPairs,
  type TraitPair,
  turned,
  weakened,
} from './published-pairs.ts';

const [start] = publishedSets;
if (start === undefined) throw new Error('no published set');
const trait = (name: string, spread: number) => ({ ...publishedFor(start, name), trait: name, spread });
const honey = trait('honey', 6);
const calmness = trait('calmness', 0.5);
const shared: TraitPair = {
  first: 'honey',
  second: 'calmness',
  worker: 0.36,
  queen: 0.31,
  workerQueen: -0.34,
  queenWorker: -0.2,
  residual: 0.15,
};

test('a covariance is the correlation times both standard deviations, in its place and symmetric', () => {
  const { G, R } = modelOfTraits([honey, calmness], { fixed: [], pairs: [shared] });
  const [a, b] = [variancesOf(honey), variancesOf(calmness)];
  expect(G[0]?.[2]).toBeCloseTo(0.36 * Math.sqrt(a.worker * b.worker), 12);
  expect(G[1]?.[3]).toBeCloseTo(0.31 * Math.sqrt(a.queen * b.queen), 12);
  expect(G[0]?.[3]).toBeCloseTo(-0.34 * Math.sqrt(a.worker * b.queen), 12);
  expect(G[1]?.[2]).toBeCloseTo(-0.2 * Math.sqrt(a.queen * b.worker), 12);
  expect(R[0]?.[1]).toBeCloseTo(0.15 * Math.sqrt(a.residual * b.residual), 12);
  for (const matrix of [G, R])
    for (const [i, row] of matrix.entries()) for (const [j, v] of row.entries()) expect(matrix[j]?.[i]).toBe(v);
  // the same pair told from the other side, and the traits in the other order: the same model
  const other = modelOfTraits([honey, calmness], { fixed: [], pairs: [turned(shared)] });
  expect(other).toEqual({ G, R, traits: ['honey', 'calmness'], fixed: [] });
});

test('every published pair can be, with its source', () => {
  for (const set of publishedPairs) {
    expect(set.source).not.toBe('');
    for (const { first, second } of set.pairs) {
      const found = publishedPairOf(set, second, first) as TraitPair;
      expect(found.first).toBe(second);
      expect(pairsCannotBe([trait(first, 2), trait(second, 0.7)], [found])).toBeNull();
    }
  }
  expect(publishedPairOf(publishedPairs[0] as (typeof publishedPairs)[0], 'honey', 'mites')).toBeNull();
});

test('what cannot be is named, with how much weaker it could be; the edge found is the edge of the least eigenvalue', () => {
  const strong = { ...nothingShared, first: 'honey', second: 'calmness', worker: 0.95, queen: -0.95 };
  const found = pairsCannotBe([honey, calmness], [strong]);
  expect(found?.alone).toEqual([strong]);
  const least = (part: number) =>
    eigenOf(
      Float64Array.from(modelOfTraits([honey, calmness], { fixed: [], pairs: weakened([strong], part) }).G.flat()),
      4,
    ).values[0] as number;
  const part = found?.part ?? 9;
  expect(least(part)).toBeGreaterThan(0);
  expect(least(part + 0.011)).toBeLessThanOrEqual(0);
  expect(pairsCannotBe([honey, calmness], weakened([strong], part))).toBeNull();
});

test('three pairs that can each be, but not together', () => {
  const third = trait('hygiene', 0.2);
  const of = (first: string, second: string, worker: number): TraitPair => ({
    ...nothingShared,
    first,
    second,
    worker,
    queen: worker,
  });
  const pairs = [of('honey', 'calmness', 0.6), of('calmness', 'hygiene', 0.6), of('honey', 'hygiene', -0.6)];
  const found = pairsCannotBe([honey, calmness, third], pairs);
  expect(found?.alone).toEqual([]);
  expect(found?.part).toBeGreaterThan(0.3);
  expect(found?.part).toBeLessThan(0.9);
});

test('a record of one trait moves the worth in the other, the way the model says; dense algebra agrees', () => {
  const queens = ['a', 'b'].map((id) => ({ id }));
  const run = (pairs: readonly TraitPair[]) => {
    const answer = evaluate({
      pedigree: { queens, pools: [] },
      model: modelOfTraits([honey, calmness], { fixed: [['yard']], pairs }),
      // the second trait was never recorded on b
      records: [
        { queen: 'a', levels: ['y'], values: [30, 3], record: '1' },
        { queen: 'b', levels: ['y'], values: [20, null], record: '2' },
      ],
      weights: { honey: 1, calmness: 5 },
      reliability: 'exact',
    });
    if (!('queens' in answer)) throw new Error('nothing');
    return answer.queens;
  };
  const alone = run([]);
  expect(alone[1]?.worth.calmness?.mother.value).toBeCloseTo(0, 12);
  const both = run([shared]);
  const moved = both[1]?.worth.calmness?.mother.value ?? 0;
  // By hand: two unrelated colonies, one mean: y_a − y_b = 10, P = ½[1 −1; −1 1]/v. V of honey of one colony with an open pool of 12 drones (own
  // variance ½/12): (¼ + 1/24)·w + m + 2·½·wm + e.
  const { G, R } = modelOfTraits([honey, calmness], { fixed: [], pairs: [shared] });
  const g = (i: number, j: number) => G[i]?.[j] ?? 0;
  const v = (0.25 + 1 / 24) * g(0, 0) + g(1, 1) + g(0, 1) + (R[0]?.[0] ?? 0);
  // mother: ½ of both effects of the queen, both of the pool; against ½ worker + queen effect of her, worker effect of the pool
  const c = 0.5 * (0.5 * g(2, 0) + g(2, 1) + 0.5 * g(3, 0) + g(3, 1)) + (1 / 24) * (g(2, 0) + g(3, 0));
  expect(moved).toBeCloseTo((-10 * c) / (2 * v), 8);
  // the index is the weighted sum, and surer than from honey alone
  const index = both[0]?.index?.mother;
  const { honey: h, calmness: k } = both[0]?.worth ?? {};
  expect(index?.value).toBeCloseTo((h?.mother.value ?? 9) + 5 * (k?.mother.value ?? 9), 10);
  expect(choleskyInPlace(Float64Array.from(G.flat()), 4)).toBe(true);
});
