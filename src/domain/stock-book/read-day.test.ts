import { describe, expect, test } from 'vitest';
import { day } from '#units/calendar-day.ts';
import { orderProof, provenOrder, readDay } from './read-day.ts';
import type { Cell } from './table.ts';

const today = day('2027-05-01');
const check = (cell: Cell, expected: object, order: 'day-first' | 'month-first' | null = null) =>
  expect(readDay(cell, { order, today }), JSON.stringify(cell)).toEqual(expected);
const on = (text: string) => ({ is: 'day', day: text });

describe('days in a breeder’s table', () => {
  test('are read in every usual form', () => {
    for (const cell of [
      '2026-06-12',
      '12.6.2026',
      '12.06.26',
      '12. 6. 2026',
      '12 Jun 2026',
      '12. Juni 2026',
      '12 czerwca 2026',
      'June 12, 2026',
      '12 giugno 2026',
      '12 de junio de 2026',
      '1er juin 2026'.replace('1er', '12'),
    ])
      check(cell, on('2026-06-12'));
    check({ day: day('2026-06-12') }, on('2026-06-12'));
    check('2026-06-12T00:00:00', on('2026-06-12'));
  });

  test('serial numbers of spreadsheets are days (ECMA-376: 45812 is 4 June 2025, 1 January 1970 is 25569)', () => {
    check(45_812, on('2025-06-04'));
    check('25569', on('1970-01-01'));
    check(45_812.75, on('2025-06-04'));
    check(7, { is: 'unreadable' });
  });

  test('figures with slashes or dashes wait for the order of the sheet, unless one is no month', () => {
    check('12/6/2026', { is: 'either', dayFirst: '2026-06-12', monthFirst: '2026-12-06' });
    check('12/6/2026', on('2026-06-12'), 'day-first');
    check('12/6/2026', on('2026-12-06'), 'month-first');
    check('25/6/2026', on('2026-06-25'));
    check('6/25/2026', on('2026-06-25'));
    check('6/6/2026', on('2026-06-06'));
    check('6/25/2026', { is: 'impossible' }, 'day-first');
  });

  test('a year, a month, a part of a month, "about" and "?" stay as unsure as they are', () => {
    check('2024', { is: 'year', year: 2024 });
    check(2024, { is: 'year', year: 2024 });
    check('6/2026', { is: 'about', day: '2026-06-15', days: 15 });
    check('Mai 2026', { is: 'about', day: '2026-05-15', days: 15 });
    check('Anfang Juni 2026', { is: 'about', day: '2026-06-05', days: 5 });
    check('mid June 2026', { is: 'about', day: '2026-06-15', days: 5 });
    for (const cell of ['ca. 10.6.2026', '~10.6.2026', 'about 10 June 2026', '10.6.2026 ?', 'um 10.6.26'])
      check(cell, { is: 'about', day: '2026-06-10', days: 5 });
    check('12.6.', { is: 'no-year', date: 12, month: 6 });
  });

  test('two figures of a year are never far ahead', () => {
    check('1.6.98', on('1998-06-01'));
    check('1.6.28', on('2028-06-01'));
  });

  test('days the calendar has not are impossible, other words unreadable, nothing is nothing', () => {
    for (const cell of ['31.6.2026', '30.2.2026', '2026-06-31', '13/13/2026', '31 June 2026'])
      check(cell, { is: 'impossible' });
    for (const cell of ['soon', 'Mill yard', '12']) check(cell, { is: 'unreadable' });
    for (const cell of ['', '?', '-', 'unbekannt']) check(cell, { is: 'nothing' });
  });
});

test('a column proves its order by the figures that are no month; contradiction proves nothing', () => {
  const proof = orderProof(['3/5/2026', '17/5/2026', '4/4/2026', '12.6.2026', ''], today);
  expect(proof).toEqual({ dayFirst: 1, monthFirst: 0, either: 1 });
  expect(provenOrder(proof)).toBe('day-first');
  expect(provenOrder(orderProof(['5/17/2026', '3/5/2026'], today))).toBe('month-first');
  expect(provenOrder(orderProof(['5/17/2026', '17/5/2026'], today))).toBeNull();
  expect(provenOrder(orderProof(['5/6/2026'], today))).toBeNull();
});
