import { describe, expect, it } from 'vitest';
import { day } from './calendar-day.ts';
import { typedDay } from './typed-day.ts';

const today = day('2027-05-01');
const check = (typed: string, expected: string | null, more: object = {}) =>
  expect(typedDay(typed, { today, dayFirst: true, ...more }), typed).toBe(expected);

describe('a typed day', () => {
  it('is read the way people write it', () => {
    for (const typed of ['2027-06-12', '12.6.', '12.6', '12. 6. 2027', '12.06.27', '12/6', '12/06/2027', '12-6-2027'])
      check(typed, '2027-06-12');
    for (const typed of ['12 Jun', '12. June 2027', 'Sat 12 Jun', 'Saturday, 12 June', 'Jun 12', 'June 12, 2027'])
      check(typed, '2027-06-12');
  });
  it('is month first with a slash where the device says so, never with a point', () => {
    check('6/12', '2027-06-12', { dayFirst: false });
    check('12.6.', '2027-06-12', { dayFirst: false });
  });
  it('counts from today or from the insemination day', () => {
    check('+7', '2027-05-08');
    check('-1', '2027-04-30');
    check('I-20', '2027-05-23', { insemination: day('2027-06-12') });
    check('i +2', '2027-06-14', { insemination: day('2027-06-12') });
    check('I-20', null);
  });
  it('takes the nearest year where none is written', () => {
    expect(typedDay('28.12.', { today: day('2027-01-05'), dayFirst: true })).toBe('2026-12-28');
    expect(typedDay('3.1.', { today: day('2026-12-30'), dayFirst: true })).toBe('2027-01-03');
    expect(typedDay('29.2.', { today: day('2028-03-01'), dayFirst: true })).toBe('2028-02-29');
  });
  it('reads month words of the person’s language', () => {
    const months = Array.from({ length: 12 }, (_, i) => (i === 4 ? ['mai'] : [`m${i}`]));
    check('12. Mai', '2027-05-12', { months });
  });
  it('refuses what is no day of the calendar', () => {
    for (const typed of ['31.6.', '2027-06-31', '29.2.2027', 'soon', '', '13 Foo', '12.13.', '0.6.'])
      check(typed, null);
  });
});
