import { expect, test } from 'vitest';
import { allSteps, offScale, onScale, ruleOf, traitRules, unitsAt } from './trait.ts';

test('a season: mean of behaviour, worst of swarming, sum of harvests (Büchler and others 2013, J Apic Res 52(1) § 3.3.1-3.3.3)', () => {
  expect(ruleOf('gentleness').season([4, 3, 3.5, 3.5])).toBe(3.5);
  expect(ruleOf('swarming').season([4, 3, 4])).toBe(3);
  expect(ruleOf('honey').season([12.5, 20.25])).toBe(32.75);
  for (const { season } of traitRules) expect(season([])).toBeNull();
});

test('behaviour asks for four readings a season (B13 § 3.1.4), half steps are allowed (§ 3.3.2)', () => {
  expect(['gentleness', 'calmness', 'swarming'].map((name) => ruleOf(name).enough)).toEqual([4, 4, 4]);
  expect(allSteps).toEqual([4, 3.5, 3, 2.5, 2, 1.5, 1]);
});

test('scales by hand: arcsin √½ = 45°, ln(1 + 3) = ln 4, points as they are; and back again', () => {
  expect(onScale('hygiene', 0.5)).toBeCloseTo(Math.PI / 4, 12);
  expect(onScale('mites', 3)).toBeCloseTo(Math.log(4), 12);
  expect(onScale('mites', 0)).toBe(0);
  expect(onScale('gentleness', 3.5)).toBe(3.5);
  for (const [name, value] of [
    ['hygiene', 0.83],
    ['mites', 2.4],
    ['honey', 41],
  ] as const)
    expect(offScale(name, onScale(name, value))).toBeCloseTo(value, 12);
});

test('the unit at a mean is the slope there: equal to a difference quotient', () => {
  for (const [name, mean] of [
    ['hygiene', 0.5],
    ['hygiene', 0.9],
    ['mites', 3],
    ['honey', 30],
  ] as const) {
    const h = 1e-6;
    const slope = (offScale(name, onScale(name, mean) + h) - offScale(name, onScale(name, mean) - h)) / (2 * h);
    expect(unitsAt(name, mean), name).toBeCloseTo(slope, 6);
  }
  expect(unitsAt('hygiene', 0.5)).toBeCloseTo(1, 12);
  expect(unitsAt('hygiene', 1)).toBeGreaterThan(0.1);
});

test('a column of a table the book does not know counts by its mean, as it is', () => {
  expect(ruleOf('wax').season([2, 4])).toBe(3);
  expect(onScale('wax', 7)).toBe(7);
});
