import { expect, test } from 'vitest';
import { day } from '#units/calendar-day.ts';
import { onDay } from '../living/day-span.ts';
import type { Reign } from '../living/whose-result.ts';
import { belongingOf } from './belonging.ts';

// About 40 days after her laying began: Büchler and others 2013, J Apic Res 52(1) § 3.1.4. Days counted by hand: 10 May + 40 = 19 June.
const reign = (queen: string, from: string, to: string | null = null, laying: string | null = null): Reign => ({
  stay: {
    queen,
    colony: 'H1',
    cage: null,
    role: 'heads',
    from: onDay(day(from)),
    to: to === null ? null : onDay(day(to)),
  },
  laying: laying === null ? null : onDay(day(laying)),
});
const read = (on: string, more: object = {}) => ({ from: null, day: day(on), queen: null, judged: null, ...more });

test('a reading 39 days after her laying began is not hers, 40 days after it is; it says from when it counts', () => {
  const reigns = [reign('A', '2027-04-20', null, '2027-05-10')];
  expect(belongingOf(read('2027-06-18'), reigns)).toEqual({
    queen: 'A',
    hers: 'partly',
    why: 'turnover',
    countsFrom: '2027-06-19',
  });
  expect(belongingOf(read('2027-06-19'), reigns)).toMatchObject({ queen: 'A', hers: 'wholly', why: 'hers' });
});

test('after a requeening the old queen’s workers still make the result, then nobody’s, then the new queen’s', () => {
  const reigns = [reign('old', '2026-05-01', '2027-05-01'), reign('new', '2027-05-01', null, '2027-05-10')];
  expect(belongingOf(read('2027-04-30'), reigns)).toMatchObject({ queen: 'old', why: 'hers' });
  expect(belongingOf(read('2027-06-01'), reigns)).toMatchObject({ queen: 'new', why: 'turnover', hers: 'partly' });
  expect(belongingOf(read('2027-06-19'), reigns)).toMatchObject({ queen: 'new', why: 'hers' });
});

test('honey of a span that begins before her turnover is not hers, though it was harvested after it', () => {
  const reigns = [reign('A', '2027-04-20', null, '2027-05-10')];
  expect(belongingOf(read('2027-07-20', { from: day('2027-06-01') }), reigns)).toMatchObject({ why: 'turnover' });
  expect(belongingOf(read('2027-07-20', { from: day('2027-06-20') }), reigns)).toMatchObject({ why: 'hers' });
});

test('two queens laying side by side: nobody’s until a person judges', () => {
  const reigns = [reign('mother', '2025-05-01'), reign('daughter', '2027-04-01')];
  expect(belongingOf(read('2027-07-01'), reigns)).toMatchObject({ why: 'two-queens', hers: 'partly' });
  expect(belongingOf(read('2027-07-01', { queen: 'mother', judged: 'wholly' }), reigns)).toMatchObject({
    queen: 'mother',
    hers: 'wholly',
    why: 'judged',
  });
  expect(belongingOf(read('2027-07-01', { judged: 'not' }), reigns)).toMatchObject({ hers: 'not', why: 'judged' });
});

test('a row of a table names its queen; a colony nobody headed has no result', () => {
  expect(belongingOf(read('2027-07-01', { queen: 'A' }), [])).toMatchObject({ queen: 'A', hers: 'wholly' });
  expect(belongingOf(read('2027-07-01'), [])).toMatchObject({ queen: null, hers: 'not', why: 'nobody' });
});
