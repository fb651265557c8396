import fc from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import { expect, test } from 'vitest';
import { addDays, type Day, day, dayOf, daysBetween, parseDay, weekday } from './calendar-day.ts';

/** Any day of the years 1600 to 2400: two whole cycles of the Gregorian calendar. */
const anyDay = fc
  .integer({ min: 0, max: 292_194 })
  .map((days) => Temporal.PlainDate.from('1600-01-01').add({ days }).toString() as Day);

test('adding and counting days, and weekdays, agree with Temporal (ECMA-262 proposal, ISO 8601 calendar)', () => {
  fc.assert(
    fc.property(anyDay, fc.integer({ min: -40_000, max: 40_000 }), (from, days) => {
      const to = addDays(from, days);
      expect(to).toBe(Temporal.PlainDate.from(from).add({ days }).toString());
      expect(daysBetween(from, to)).toBe(days);
      expect(weekday(from)).toBe(Temporal.PlainDate.from(from).dayOfWeek);
    }),
    { numRuns: 2_000 },
  );
});

test('every day of four centuries follows the one before', () => {
  let on = day('1999-12-31');
  for (let n = 0, date = Temporal.PlainDate.from(on); n < 146_097; n++) {
    date = date.add({ days: 1 });
    on = addDays(on, 1);
    if (on !== date.toString()) expect(on).toBe(date.toString());
  }
  expect(on).toBe('2399-12-31');
});

test.each([
  '2027-06-31',
  '2027-02-29',
  '1900-02-29',
  '2027-13-01',
  '2027-00-10',
  '2027-04-00',
  '27-04-01',
  '2027-4-1',
  '',
])('%s is no day', (text) => {
  expect(parseDay(text)).toBeNull();
  expect(() => day(text)).toThrow(RangeError);
});

test('leap days exist, also of 2000', () => {
  expect(parseDay('2028-02-29')).toBe('2028-02-29');
  expect(parseDay('2000-02-29')).toBe('2000-02-29');
  expect(dayOf(2027, 6, 12)).toBe('2027-06-12');
  expect(dayOf(2027, 6, 31)).toBeNull();
});

test('part of a day is a slip of ours', () => {
  expect(() => addDays(day('2027-06-12'), 0.5)).toThrow(RangeError);
});

test('days beyond the year 9999 are refused', () => {
  expect(() => addDays(day('9999-12-31'), 1)).toThrow(RangeError);
  expect(() => addDays(day('0000-03-01'), -61)).toThrow(RangeError);
});
