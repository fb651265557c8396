import { expect, test } from 'vitest';
import { day } from '#units/calendar-day.ts';
import { type OwnedReading, seasonRecords, testYear, traitsIn } from './season-records.ts';

let n = 0;
const read = (trait: string, value: number | null, on: string, more: Partial<OwnedReading> = {}): OwnedReading => ({
  id: `s${n++}`,
  trait,
  value,
  notJudged: null,
  method: null,
  from: null,
  day: day(on),
  yard: 'Hill',
  queen: 'A',
  isHers: true,
  why: 'hers',
  ...more,
});
const values = (readings: OwnedReading[], month = 1) =>
  seasonRecords(readings, { month }).records.map(({ queen, year, yard, traits }) => ({
    queen,
    year,
    yard,
    ...Object.fromEntries([...traits].map(([trait, { value }]) => [trait, value])),
  }));
const reasons = (readings: OwnedReading[]) => seasonRecords(readings).leftOut.map(({ why }) => why);

test('one row a queen and year: means, the worst, sums; what was not read is not there', () => {
  expect(
    values([
      read('gentleness', 4, '2027-05-01'),
      read('gentleness', 3, '2027-06-01'),
      read('swarming', 4, '2027-05-01'),
      read('swarming', 2, '2027-06-01'),
      read('honey', 12.5, '2027-06-20'),
      read('honey', 20.25, '2027-08-01'),
      read('gentleness', 2, '2028-05-01'),
    ]),
  ).toEqual([
    { queen: 'A', year: 2027, yard: 'Hill', gentleness: 3.5, swarming: 2, honey: 32.75 },
    { queen: 'A', year: 2028, yard: 'Hill', gentleness: 2 },
  ]);
});

test('not judged is not zero, and a test begun is not read yet', () => {
  const readings = [
    read('gentleness', null, '2027-05-01', { notJudged: 'weather' }),
    read('hygiene', null, '2027-05-01'),
    read('honey', 0, '2027-06-20'),
  ];
  expect(values(readings)).toEqual([{ queen: 'A', year: 2027, yard: 'Hill', honey: 0 }]);
  expect(reasons(readings)).toEqual(['not-judged', 'not-read-yet']);
});

test('what is not wholly hers counts for nobody and says why', () => {
  const readings = [
    read('honey', 9, '2027-06-20', { isHers: false, why: 'turnover' }),
    read('honey', 9, '2027-06-20', { isHers: false, why: 'two-queens' }),
    read('honey', 9, '2027-06-20', { queen: null, isHers: false, why: 'nobody' }),
    read('honey', 9, '2027-06-20', { isHers: false, why: 'judged' }),
    read('honey', 9, '2027-06-20', { yard: null }),
  ];
  expect(values(readings)).toEqual([]);
  expect(reasons(readings)).toEqual(['turnover', 'two-queens', 'nobody', 'judged', 'no-yard']);
});

test('a colony moved in the middle of a year belongs to the yard of most readings', () => {
  const readings = [
    read('gentleness', 4, '2027-04-20', { yard: 'Mill' }),
    read('gentleness', 3, '2027-05-20'),
    read('gentleness', 2, '2027-06-20'),
  ];
  expect(values(readings)).toEqual([{ queen: 'A', year: 2027, yard: 'Hill', gentleness: 2.5 }]);
  expect(reasons(readings)).toEqual(['other-yard']);
});

test('a season value from a table stands only where nothing was read in detail; of two the later', () => {
  const season = (value: number) => read('honey', value, '2027-12-31', { method: 'season' });
  expect(values([season(30), season(31)])).toEqual([{ queen: 'A', year: 2027, yard: 'Hill', honey: 31 }]);
  const both = [season(30), read('honey', 12, '2027-06-20')];
  expect(values(both)).toMatchObject([{ honey: 12 }]);
  expect(reasons(both)).toEqual(['read-in-detail']);
});

test('wintering: bees after winter over the last reading before it, counted in the year after; by hand 6 of 8 combs = 0.75', () => {
  const strengths = [
    read('strength', 9, '2026-08-20', { method: 'before-winter' }),
    read('strength', 8, '2026-10-10', { method: 'before-winter' }),
    read('strength', 6, '2027-03-20', { method: 'after-winter' }),
    read('strength', 12, '2027-06-01'),
  ];
  expect(values(strengths)).toEqual([{ queen: 'A', year: 2027, yard: 'Hill', wintering: 0.75 }]);
  expect(values(strengths.slice(2))).toEqual([]);
});

test('mite growth: ln(8/2) over 60 days from the first to the last wash; not nearer than three weeks, not from zero', () => {
  const [first] = values([read('mites', 2, '2027-06-01'), read('mites', 8, '2027-07-31')]);
  expect(first).toMatchObject({ mites: 5 });
  expect(first).toHaveProperty('mite-growth', Math.log(4) / 60);
  expect(values([read('mites', 2, '2027-06-01'), read('mites', 8, '2027-06-15')])[0]).not.toHaveProperty('mite-growth');
  expect(values([read('mites', 0, '2027-06-01'), read('mites', 8, '2027-07-31')])[0]).not.toHaveProperty('mite-growth');
});

test('a southern season is one year: with years beginning in July, November 2026 and February 2027 are 2026', () => {
  expect([testYear(day('2026-11-01'), 7), testYear(day('2027-02-01'), 7), testYear(day('2027-07-01'), 7)]).toEqual([
    2026, 2026, 2027,
  ]);
  expect(values([read('honey', 10, '2026-11-01'), read('honey', 5, '2027-02-01')], 7)).toMatchObject([
    { year: 2026, honey: 15 },
  ]);
});

test('traits in the order of the book, unknown ones last', () => {
  const { records } = seasonRecords([
    read('wax', 1, '2027-05-01'),
    read('honey', 1, '2027-05-01'),
    read('gentleness', 1, '2027-05-01'),
  ]);
  expect(traitsIn(records)).toEqual(['gentleness', 'honey', 'wax']);
});
