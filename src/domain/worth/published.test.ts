import { expect, test } from 'vitest';
import { evaluate } from './evaluation.ts';
import {
  BASE_RELATIONSHIP,
  canBe,
  modelOfTraits,
  publishedFor,
  publishedSets,
  spreadWithin,
  variancesOf,
} from './published.ts';

test('every published set gives variances that can be, and its own heritabilities back', () => {
  for (const set of publishedSets)
    for (const trait of Object.keys(set.traits)) {
      const given = { ...publishedFor(set, trait), trait, spread: 2 };
      expect(canBe(given), `${set.name} ${trait}`).toBe(true);
      const { worker, queen, mixed, residual } = variancesOf(given);
      // the definition: σ²P = A·σ²w + σwq + σ²q + σ²e (Brascamp and Bijma 2019, Genet Sel Evol 51:71)
      expect(BASE_RELATIONSHIP * worker + mixed + queen + residual).toBeCloseTo(4, 12);
      expect((BASE_RELATIONSHIP * worker) / 4).toBeCloseTo(given.worker, 12);
      expect(mixed / Math.sqrt(worker * queen)).toBeCloseTo(given.correlation, 12);
    }
});

test('numbers that leave nothing for the residual cannot be', () => {
  expect(canBe({ trait: 'honey', worker: 0.7, queen: 0.6, correlation: 0.5, spread: 5 })).toBe(false);
  expect(canBe({ trait: 'honey', worker: 0.2, queen: 0.2, correlation: -1.2, spread: 5 })).toBe(false);
  expect(canBe({ trait: 'honey', worker: 0.2, queen: 0.2, correlation: 0, spread: 0 })).toBe(false);
});

test('spread within yard-years is pooled, and a usual one stands where few say it', () => {
  const groups = [
    [10, 12, 14, 16, 18, 20],
    [30, 32, 34, 36, 38, 40],
  ];
  // each group: sum of squares 70 with 5 degrees of freedom
  expect(spreadWithin('honey', groups)).toEqual({ spread: Math.sqrt(14), colonies: 12 });
  expect(spreadWithin('honey', [[10, 30]])).toEqual({ spread: 8, colonies: 2 });
});

test('traits side by side share nothing: the worth of one does not move when another is added', () => {
  const one = { ...publishedFor(publishedSets[0] as (typeof publishedSets)[0], 'honey'), trait: 'honey', spread: 6 };
  const two = { ...one, trait: 'calmness', spread: 0.5 };
  const fixed = [['yard']];
  const queens = ['a', 'b', 'c'].map((id) => ({ id }));
  const rows = (values: (number | null)[][]) =>
    values.map((value, i) => ({ queen: 'abc'[i] ?? '', levels: ['y'], values: value, record: `${i}` }));
  const alone = evaluate({
    pedigree: { queens, pools: [] },
    model: modelOfTraits([one], { fixed }),
    records: rows([[20], [30], [25]]),
  });
  const both = evaluate({
    pedigree: { queens, pools: [] },
    model: modelOfTraits([one, two], { fixed }),
    records: rows([
      [20, 4],
      [30, 1],
      [25, null],
    ]),
  });
  if (!('queens' in alone && 'queens' in both)) throw new Error('nothing');
  expect(both.queens[1]?.worth.honey?.mother.value).toBeCloseTo(alone.queens[1]?.worth.honey?.mother.value ?? 9, 10);
});
