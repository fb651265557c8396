import { describe, expect, test } from 'vitest';
import { onDay } from '#domain/living/day-span.ts';
import type { Stay } from '#domain/living/stay.ts';
import { type Day, day } from '#units/calendar-day.ts';
import { doubtsOfCatch } from './catch-doubts.ts';
import { laidSpan, motherOfCatch } from './catch-mother.ts';

const heads = (queen: string, from: string | null, to: string | null | [string, string]): Stay => ({
  queen,
  colony: 'holder',
  cage: null,
  role: 'heads',
  from: from === null ? null : onDay(day(from)),
  to: to === null ? null : typeof to === 'string' ? onDay(day(to)) : { earliest: to[0] as Day, latest: to[1] as Day },
});

const caught = { colony: 'holder', caught: day('2027-06-01'), ageFrom: 14, ageTo: 21 };

describe('the mother of caught drones', () => {
  test('is whoever laid at catch − age − 24 days', () => {
    expect(laidSpan(caught)).toEqual({ first: '2027-04-17', last: '2027-04-24' });
  });

  test('odd record 17: M was superseded on 20 April, inside the span: asked, not guessed', () => {
    const answer = motherOfCatch(caught, [heads('M', '2026-05-01', '2027-04-20'), heads('M2', '2027-05-06', null)]);
    expect(answer).toEqual({ answer: 'ask', candidates: ['M'], laid: laidSpan(caught) });
  });

  test('superseded well before: her successor is the mother, though the box says M', () => {
    const stays = [heads('M', '2026-05-01', '2027-03-20'), heads('M2', '2027-04-05', null)];
    expect(motherOfCatch(caught, stays)).toMatchObject({ answer: 'known', queen: 'M2' });
  });

  test('requeened after the eggs were laid: the former queen is the mother', () => {
    const stays = [heads('M', '2026-05-01', '2027-05-20'), heads('X', '2027-05-21', null)];
    expect(motherOfCatch(caught, stays)).toMatchObject({ answer: 'known', queen: 'M' });
  });

  test('an end that is a span counts only where it is sure', () => {
    expect(motherOfCatch(caught, [heads('M', null, ['2027-03-01', '2027-05-01'])])).toMatchObject({ answer: 'ask' });
    expect(motherOfCatch(caught, [heads('M', null, ['2027-04-24', '2027-05-01'])])).toMatchObject({ answer: 'known' });
  });

  test('mother and daughter laying side by side are asked about; a colony without a queen in the book is unknown', () => {
    const both = motherOfCatch(caught, [heads('M', null, null), heads('D', '2027-03-01', null)]);
    expect(both).toMatchObject({ answer: 'ask', candidates: ['M', 'D'] });
    expect(motherOfCatch(caught, [{ ...heads('M', null, null), role: 'banked' }])).toMatchObject({ answer: 'unknown' });
  });
});

describe('drones that cannot well be hers', () => {
  const codes = (ended: string | null, heading: string | null) =>
    doubtsOfCatch(caught, { ended: ended as Day | null, heading: heading as Day | null }).map(({ code, weight }) => [
      code,
      weight,
    ]);

  test('caught more than 24 + 90 days after she died is doubted, from 24 + 55 warned', () => {
    expect(codes('2027-02-07', null)).toEqual([['drones-after-their-mother', 'warn']]);
    expect(codes('2027-02-06', null)).toEqual([['drones-long-after-their-mother', 'doubt']]);
    expect(codes('2027-03-14', null)).toEqual([]);
    expect(codes('2027-03-13', null)).toEqual([['drones-after-their-mother', 'warn']]);
    expect(codes(null, null)).toEqual([]);
  });

  test('from a holder she heads for less than 24 + age days is doubted', () => {
    expect(codes(null, '2027-04-25')).toEqual([['holder-requeened-too-recently', 'doubt']]);
    expect(codes(null, '2027-04-24')).toEqual([]);
  });
});
