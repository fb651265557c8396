import { describe, expect, test } from 'vitest';
import {
  canBeToldApart,
  impossibleOf,
  impossibleTogether,
  inputOf,
  unitsOf,
  usualChoices,
  type WorthFacts,
} from './choices.ts';
import { evaluate } from './evaluation.ts';
import { parametersOf } from './evaluation-input.ts';
import { nothingShared } from './published-pairs.ts';

const yard = { id: 'y', name: 'Heath' };
const queens = Array.from({ length: 14 }, (_, i) => ({ id: `q${i}`, dam: i < 4 ? null : `q${i % 4}` }));
const facts: WorthFacts = {
  pedigree: { queens, pools: [] },
  years: { q0: 2025, q1: 2025, q5: 2026 },
  lines: { q0: 'Alder', q1: 'Sallow', q7: 'Alder' },
  records: queens.slice(2).map(({ id }, i) => ({
    id: `${id} 2026`,
    queen: id,
    year: 2026,
    yard,
    traits: { honey: 20 + (i % 5) * 4, mites: 1 + (i % 3), ...(i === 0 ? { hygiene: 0.5 } : {}) },
  })),
};

test('traits most records have are chosen, with the spread seen and a weight that counts it once', () => {
  const choices = usualChoices(facts.records, ['honey', 'hygiene', 'mites']);
  expect(choices.traits.map(({ trait }) => trait)).toEqual(['honey', 'mites']);
  expect(choices.random).toBe(false);
  const [honey, mites] = choices.traits;
  expect(honey?.weight).toBeCloseTo(1 / (honey?.spread ?? 9), 2);
  expect(mites?.weight).toBeLessThan(0);
  expect(impossibleOf(choices)).toEqual([]);
});

test('counts are evaluated on their scale; the weight holds for the trait’s own unit', () => {
  const choices = usualChoices(facts.records, ['honey', 'mites']);
  const input = inputOf(facts, choices);
  expect(input.records[0]?.values).toEqual([20, Math.log(2)]);
  // y = ln(1 + x): one unit of y is 1 + mean of x mites
  expect(unitsOf(facts.records, 'mites')).toBe(1 + 2);
  expect(input.weights?.mites).toBeCloseTo(3 * (choices.traits[1]?.weight ?? 9), 12);
  expect('queens' in evaluate(input)).toBe(true);
});

test('a cohort, random yard-years and lines as groups go into the input', () => {
  const choices = { ...usualChoices(facts.records, ['honey']), reference: 2025, random: true, lines: true };
  const input = inputOf(facts, choices);
  expect(input.reference).toEqual(['q0', 'q1']);
  expect(input.model.fixed).toEqual([]);
  expect(input.model.random?.effect).toEqual(['yard', 'year']);
  expect(input.groups?.founders).toEqual({ q0: 'Alder', q1: 'Sallow' });
  expect('queens' in evaluate(input)).toBe(true);
});

test('what traits share goes into the model, and a trait that is left out takes its pairs along', () => {
  const plain = usualChoices(facts.records, ['honey', 'mites']);
  const pair = { ...nothingShared, first: 'mites', second: 'honey', worker: -0.3, residual: 0.1, from: 'own' };
  const choices = { ...plain, pairs: [pair] };
  const [before, after] = [inputOf(facts, plain).model, inputOf(facts, choices).model];
  expect(before.G[0]?.[2]).toBe(0);
  expect(after.G[0]?.[2]).toBeCloseTo(-0.3 * Math.sqrt((after.G[0]?.[0] ?? 9) * (after.G[2]?.[2] ?? 9)), 12);
  expect(after.R[0]?.[1]).toBeGreaterThan(0);
  expect(impossibleTogether(choices)).toBeNull();
  expect(impossibleTogether({ ...choices, pairs: [{ ...pair, worker: 1 }] })?.alone).toHaveLength(1);
  expect(inputOf(facts, { ...choices, traits: choices.traits.slice(0, 1) }).model.G).toHaveLength(2);
});

describe('what is taken out beside yard and year', () => {
  const records = facts.records.map((record, i) => ({
    ...record,
    yard: { id: `y${i % 2}`, name: `Yard ${i % 2}` },
    tester: i % 3 === 0 ? 'Ada' : 'Ben',
    isInseminated: i % 4 < 2,
  }));
  const plain = usualChoices(records, ['honey']);
  const values = (given: typeof records, choices: object) => {
    const answer = evaluate(inputOf({ ...facts, records: given }, { ...plain, ...choices }));
    if (!('queens' in answer)) throw new Error(JSON.stringify(answer.problems));
    return answer.queens.map(({ worth }) => worth.honey?.mother.value ?? Number.NaN);
  };
  test.each(['tester', 'method'] as const)('%s: whatever it gives more, worth does not move', (effect) => {
    const generous = records.map((record) => {
      const more = (effect === 'tester' ? record.tester === 'Ada' : record.isInseminated) ? 7 : 0;
      return { ...record, traits: { ...record.traits, honey: (record.traits.honey ?? 0) + more } };
    });
    for (const random of [false, true]) {
      const [before, after] = [records, generous].map((given) => values(given, { [effect]: true, random })) as [
        number[],
        number[],
      ];
      for (const [i, value] of before.entries()) expect(after[i]).toBeCloseTo(value, 6);
    }
    // without it the difference goes into the queens
    expect(values(generous, {})).not.toEqual(values(records, {}).map((value) => expect.closeTo(value, 3)));
  });
  test('an effect that goes with the yards cannot be told from them', () => {
    expect(canBeToldApart(records, 'tester')).toBe(true);
    const split = records.map((record) => ({ ...record, tester: record.yard.name }));
    expect(canBeToldApart(split, 'tester')).toBe(false);
    // taken out all the same it changes nothing
    expect(values(split, { tester: true })).toEqual(values(split, {}).map((value) => expect.closeTo(value, 6)));
  });
  test('open drones as a group: one level for all of them, and values hold it', () => {
    const input = inputOf({ ...facts, records }, { ...plain, open: true });
    expect(new Set(Object.values(input.groups?.open ?? {}))).toEqual(new Set(['open drones']));
    expect(values(records, { open: true })).not.toEqual(values(records, {}).map((value) => expect.closeTo(value, 6)));
  });
});

test('parameters of a run stay short however many queens there are: who belongs where is in the kept input', () => {
  const many = Array.from({ length: 50_000 }, (_, i) => ({ id: `0193a000-0000-7000-8000-${i}` }));
  const large: WorthFacts = {
    ...facts,
    pedigree: { queens: [...facts.pedigree.queens, ...many], pools: [] },
    years: Object.fromEntries(many.map(({ id }) => [id, 2026])),
    lines: Object.fromEntries(many.map(({ id }) => [id, 'Alder'])),
  };
  const choices = { ...usualChoices(facts.records, ['honey']), reference: 2026, lines: true, open: true };
  const parameters = parametersOf(inputOf(large, choices));
  expect(parameters).toMatchObject({ reference: 50_000, groups: 1 });
  expect(JSON.stringify(parameters).length).toBeLessThan(2000);
});
