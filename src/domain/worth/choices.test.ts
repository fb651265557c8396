import { expect, test } from 'vitest';
import { impossibleOf, inputOf, unitsOf, usualChoices, type WorthFacts } from './choices.ts';
import { evaluate } from './evaluation.ts';

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
