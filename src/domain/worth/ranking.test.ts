import { expect, test } from 'vitest';
import type { QueenFace } from '../marking/queen-face.ts';
import { changeColumns, changeOf } from './changes-told.ts';
import type { EvaluatedQueen } from './evaluation.ts';
import { type AskedRanking, rankingOf } from './ranking.ts';
import { mostOf } from './rests-on.ts';
import { toldOfStock } from './stock-told.ts';

const queen = (id: string, value: number, error: number): EvaluatedQueen => {
  const worth = { value, error, reliability: 0.5 };
  const by = { mother: worth, drones: worth, colony: worth };
  return { id, code: id.toUpperCase(), year: 2026, records: 1, worth: { honey: by }, index: by };
};
const answer = {
  traits: ['honey'],
  indexTrend: null,
  queens: [queen('a', 1, 1), queen('b', 3, 1), queen('c', -2, 0.5)],
};
const face = (living: QueenFace['living']) => ({ living }) as QueenFace;
const faces = { a: face('alive'), b: face('gone'), c: face('unknown') };
const asked: AskedRanking = {
  of: 'honey',
  criterion: 'mother',
  livingOnly: false,
  most: 2,
  opened: null,
  units: { honey: 2 },
  before: null,
};

test('the best are told in their own unit; all are counted, and reach as far as their errors', () => {
  const told = rankingOf(answer, faces, asked);
  expect(told.best.map(({ queen: { id }, worth }) => [id, worth.value, worth.error])).toEqual([
    ['b', 6, 2],
    ['a', 2, 2],
  ]);
  // 6 − 2 = 4 is not below √(2² + 2²) = 2.83; 6 − (−4) = 10 is not either
  expect(told).toMatchObject({ seen: 'honey', queens: 3, asGood: 0, low: -5, high: 8 });
});

test('gone queens are left out on request; a queen opened is told wherever she stands, with where she lay before', () => {
  const before = { queens: ['a', 'c'], from: Float64Array.of(Number.NaN, -9) };
  const told = rankingOf(answer, faces, { ...asked, livingOnly: true, most: 1, opened: 'c', before });
  expect(told.best.map(({ queen: { id }, before: was }) => [id, was])).toEqual([['a', null]]);
  expect(told.opened).toMatchObject({ queen: { id: 'c' }, before: -18 });
  expect(told).toMatchObject({ queens: 2, low: -18 });
});

test('without queens nothing is told', () => {
  expect(rankingOf({ ...answer, queens: [] }, {}, asked)).toEqual({
    seen: 'honey',
    queens: 0,
    asGood: 0,
    low: 0,
    high: 0,
    best: [],
    opened: null,
  });
});

test('changes come back out of their columns; those that did not move are not among the most', () => {
  const change = (id: string, from: number | null, to: number | null) => ({
    queen: id,
    code: id,
    from,
    to,
    byModel: 0.25,
    byDescent: 0,
    byRecords: 0.5,
    byBase: 0,
  });
  const told = changeColumns([change('a', 1, 4), change('b', null, 2), change('c', 1, 1), change('d', 2, 1)], 8);
  expect(told.most.map(({ queen: id }) => id)).toEqual(['a', 'd']);
  expect(changeOf(told, 'b')).toMatchObject({ from: null, to: 2, byModel: 0.25, byRecords: 0.5 });
  expect(changeOf(told, 'nobody')).toBeUndefined();
});

test('the largest parts of a worth, what the others give together, and the sum of all', () => {
  const part = (value: number) => ({
    record: '',
    queen: '',
    level: '',
    trait: '',
    value,
    deviation: 1,
    weight: value,
    part: value,
  });
  const found = mostOf({ value: 2.5, parts: [part(3), part(-1), part(0.5), part(1e-15)] }, 1);
  expect(found).toMatchObject({ more: 2, moreGive: -0.5, sum: 2.5 });
  expect(found.parts).toHaveLength(1);
});

test('a stock in short: records by trait, and years recorded queens were born in with all born then', () => {
  const record = (id: string, of: string, yard: string, tester: string) => ({
    id,
    queen: of,
    year: 2027,
    yard: { id: yard, name: yard },
    traits: { honey: 20 },
    tester,
  });
  const told = toldOfStock({
    pedigree: { queens: [], pools: [] },
    years: { a: 2026, b: 2026, c: 2025 },
    lines: {},
    records: [record('1', 'a', 'Mill', 'one'), record('2', 'b', 'Mill', 'other')],
    traits: ['honey'],
  });
  expect(told).toMatchObject({
    records: 2,
    years: [{ year: 2026, queens: 2 }],
    toldApart: { tester: true, method: false },
  });
  expect(told.traits).toMatchObject([{ trait: 'honey', records: 2, usual: { trait: 'honey' } }]);
});
