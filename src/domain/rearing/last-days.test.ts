import { describe, expect, it } from 'vitest';
import { addDays, type Day, day, daysBetween } from '#units/calendar-day.ts';
import { queenShares, queensThrough } from './chances/queen-losses.ts';
import { lastDays } from './last-days.ts';
import { standardText } from './standard-text.ts';

describe('the last days of use', () => {
  const on = day('2027-06-12');

  /** Queens out 11 to 13 days after the graft, drones 23 to 25 days after the egg (Winston 1987, stage tables); usable from 5 and 12 days. */
  it('are counted from the shortest times and the youngest ages', () => {
    expect(lastDays(on, standardText)).toEqual({ graft: '2027-05-27', laid: '2027-05-08' });
  });

  it('are where the chances end: a graft on it may give a queen of age, a day later none', () => {
    const { graft } = lastDays(on, standardText);
    const ready = (from: Day) => {
      const daysBefore = daysBetween(from, on);
      const shares = queenShares(standardText, { daysBefore, ages: standardText.queens.hard });
      return queensThrough({ left: 100, after: 'grafted' }, shares)
        .slice(1)
        .some((chance) => chance > 0);
    };
    expect(ready(graft)).toBe(true);
    expect(ready(addDays(graft, 1))).toBe(false);
  });
});
