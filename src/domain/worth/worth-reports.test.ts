import { describe, expect, test } from 'vitest';
import { oneTrait, simulatePedigree, simulateRecords } from '../../../bench/_stock.ts';
import { layPedigreeOf } from '../pedigree/pedigree.ts';
import { breedingValues } from './breeding-values.ts';
import { connectedness } from './connectedness.ts';
import { countedFrom, trendOf } from './trend.ts';
import { validate } from './validation.ts';

const pedigree = simulatePedigree({ queens: 1500, mating: 'own', cohorts: 6 });
const records = simulateRecords(pedigree, oneTrait);
const values = breedingValues(pedigree, records, oneTrait, { reliability: 'none' });

describe('leaving the last year out', () => {
  const [found] = validate(pedigree, records, oneTrait, 2005) ?? [];
  test('under the true variances values are neither biased nor spread too far', () => {
    expect(found?.focal).toBe(250);
    expect(Math.abs(found?.bias ?? 9)).toBeLessThan(0.4);
    expect(Math.abs((found?.dispersion ?? 9) - 1)).toBeLessThan(0.35);
    expect(found?.correlation).toBeGreaterThan(0.4);
    expect(found?.predictiveAbility).toBeGreaterThan(0.1);
    expect(found?.reliability).toBeGreaterThan(0);
    expect(found?.pairs).toHaveLength(250);
  });
  test('a year without queens says nothing', () => {
    expect(validate(pedigree, records, oneTrait, 1999)).toBeNull();
  });
});

test('a trend has one entry a birth year', () => {
  const trend = trendOf(pedigree, values, 'yield');
  expect(trend.map((one) => one.year)).toEqual([2000, 2001, 2002, 2003, 2004, 2005]);
  expect(trend.reduce((sum, one) => sum + one.queens, 0)).toBe(1500);
});

test('values counted from a reference cohort have its mean at 0 and the same differences', () => {
  const isFirst = (queen: string) => Number(queen.slice(1)) < 250;
  const counted = countedFrom(values, isFirst);
  const sum = counted.queens
    .filter((one) => isFirst(one.queen))
    .reduce((total, one) => total + one.asMotherOfQueens, 0);
  expect(sum).toBeCloseTo(0, 8);
  const [a, b] = [0, 900].map((k) => (counted.queens[k]?.asColony ?? 0) - (values.queens[k]?.asColony ?? 0));
  expect(a).toBeCloseTo(b ?? 9, 10);
  expect(countedFrom(values, () => false).queens[3]).toEqual(values.queens[3]);
});

describe('connectedness', () => {
  const { pedigree: small } = layPedigreeOf({
    queens: [
      { id: 'M' },
      { id: 'N' },
      { id: 'A', dam: 'M' },
      { id: 'B', dam: 'M' },
      { id: 'C', dam: 'N', pool: 's' },
      { id: 'D' },
      { id: 'E' },
    ],
    pools: [{ id: 's', sources: [{ queen: 'E', share: 1, drones: 8 }] }],
  });
  if (small === null) throw new Error('stock');
  const at = (queens: string[], levels: number[]) => ({
    count: queens.length,
    queen: Int32Array.from(queens, (id) => small.stock.names.queenIndex(id)),
    values: new Float64Array(queens.length),
    factors: [{ level: Int32Array.from(levels), names: ['x', 'y', 'z'] }],
  });
  test('sisters in two yards join them, a drone mother and her drones too', () => {
    expect(connectedness(small, at(['A', 'B', 'C', 'E'], [0, 1, 1, 2])).sets).toEqual([['x', 'y', 'z']]);
  });
  test('a colony alone, and yards with nothing in common', () => {
    expect(connectedness(small, at(['A', 'B', 'C', 'D'], [0, 0, 1, 1]))).toEqual({ alone: [], sets: [['x'], ['y']] });
    expect(connectedness(small, at(['A', 'B', 'D'], [0, 0, 2])).alone).toEqual(['z']);
  });
});
