import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addDays, type Day, day, daysBetween, parseDay } from '#units/calendar-day.ts';
import { countBack, earliestInsemination } from './count-back.ts';
import { shippedProfiles } from './profiles.ts';
import { standardText } from './standard-text.ts';
import type { Task } from './task.ts';
import type { Wish } from './wish.ts';

const wish = (more: Partial<Wish> = {}): Wish => ({
  inseminate: day('2027-06-12'),
  queens: 12,
  profile: standardText,
  ...more,
});
const keys = (tasks: readonly Task[]) => tasks.map(({ key }) => key);
const dayOf = (tasks: readonly Task[], key: string) => tasks.find((task) => task.key === key)?.day;

/** Any day of four centuries: every leap-day rule of the calendar is in it (2000 had one, 1900 and 2100 had not). */
const anyDay = fc.integer({ min: 0, max: 146_097 }).map((days) => addDays(day('1800-01-01'), days));
const anyWish = fc
  .record({
    inseminate: anyDay,
    queens: fc.integer({ min: 1, max: 400 }),
    queenAge: fc.integer({ min: 1, max: 30 }),
    youngest: fc.integer({ min: 1, max: 40 }),
    width: fc.integer({ min: 0, max: 20 }),
    doses: fc.constantFrom<1 | 2>(1, 2),
    holdDays: fc.integer({ min: 0, max: 10 }),
    profile: fc.constantFrom(...shippedProfiles),
  })
  .map(({ youngest, width, ...rest }): Wish => ({ ...rest, droneAge: { from: youngest, to: youngest + width } }));

/** Days since 1 March of year 0, by counting (Hatcher 1984): an oracle that shares nothing with the calendar library. */
function ordinal(on: Day): number {
  const [y = 0, m = 0, d = 0] = on.split('-').map(Number);
  const year = m > 2 ? y : y - 1;
  const month = (m + 9) % 12;
  const leaps = Math.floor(year / 4) - Math.floor(year / 100) + Math.floor(year / 400);
  return 365 * year + leaps + Math.floor((153 * month + 2) / 5) + d - 1;
}

describe('a countback', () => {
  it('names every task once, in the order of the contract, with the trial eversion two days before', () => {
    expect(keys(countBack(wish()))).toEqual([
      'drone-comb-in',
      'drone-eggs',
      'drone-egg-check',
      'drone-brood-out',
      'drones-emerge',
      'starter',
      'graft',
      'nucs-ready',
      'cells-out',
      'virgins-emerge',
      'trial-eversion',
      'first-co2',
      'inseminate',
      'release',
      'release-check',
      'egg-check',
      'egg-check-2',
      'egg-check-3',
      'excluder-off',
      'brood-check',
      'own-workers',
    ]);
  });

  it('has a second dose two days on and no first carbon dioxide, unless asked', () => {
    expect(keys(countBack(wish({ doses: 2 })))).not.toContain('first-co2');
    expect(dayOf(countBack(wish({ doses: 2 })), 'second-dose')).toBe('2027-06-14');
    expect(dayOf(countBack(wish({ doses: 2, firstCo2: true })), 'first-co2')).toBe('2027-06-11');
  });

  it('nurses after the last dose and looks on the day she is let out, never before I+2', () => {
    expect(dayOf(countBack(wish({ doses: 2 })), 'release')).toBe('2027-06-16');
    expect(dayOf(countBack(wish({ holdDays: 3 })), 'release-check')).toBe('2027-06-15');
    expect(dayOf(countBack(wish({ holdDays: 0 })), 'release-check')).toBe('2027-06-14');
  });

  it('counts from the eggs once they are seen: excluder off that day, caps after 11 days, own workers after 21', () => {
    const tasks = countBack(wish({ eggsSeen: day('2027-06-22') }));
    expect(dayOf(tasks, 'excluder-off')).toBe('2027-06-22');
    expect(dayOf(tasks, 'brood-check')).toBe('2027-07-03');
    expect(dayOf(tasks, 'own-workers')).toBe('2027-07-13');
    expect(keys(tasks)).toContain('egg-check-2');
    expect(keys(tasks)).not.toContain('egg-check-3');
  });

  it('crosses the leap day of 2028 and misses one in 2100', () => {
    expect(dayOf(countBack(wish({ inseminate: day('2028-03-04') })), 'virgins-emerge')).toBe('2028-02-25');
    expect(dayOf(countBack(wish({ inseminate: day('2028-03-04') })), 'graft')).toBe('2028-02-13');
    expect(dayOf(countBack(wish({ inseminate: day('2100-03-04') })), 'virgins-emerge')).toBe('2100-02-24');
  });

  it('carries a southern season over New Year', () => {
    expect(dayOf(countBack(wish({ inseminate: day('2027-01-09') })), 'drone-comb-in')).toBe('2026-11-23');
  });

  it('keeps the distances of the contract for any day, ages and shipped profile', () => {
    fc.assert(
      fc.property(anyWish, (asked) => {
        const { queenAge: age = 0, droneAge = { from: 0, to: 0 } } = asked;
        const at = new Map(countBack(asked).map((task) => [task.key, task]));
        const before = (on: Day | undefined) => ordinal(asked.inseminate) - ordinal(on ?? asked.inseminate);
        expect(before(at.get('graft')?.day)).toBe(age + 12);
        expect(before(at.get('virgins-emerge')?.day)).toBe(age);
        expect(before(at.get('drone-eggs')?.from)).toBe(droneAge.to + 24);
        expect(before(at.get('drone-eggs')?.to)).toBe(droneAge.from + 24);
        expect(before(at.get('own-workers')?.from)).toBe(-26);
        expect(before(at.get('own-workers')?.to)).toBe(-35);
      }),
    );
  });

  it('gives real days, windows the right way round, and unique keys', () => {
    fc.assert(
      fc.property(anyWish, (asked) => {
        const tasks = countBack(asked);
        for (const task of tasks) {
          expect(parseDay(task.from)).toBe(task.from);
          expect(parseDay(task.to)).toBe(task.to);
          expect(task.day).toBe(task.from);
          expect(task.from <= task.to).toBe(true);
          expect(task.values.fromI).toBe(daysBetween(asked.inseminate, task.day));
        }
        expect(new Set(keys(tasks)).size).toBe(tasks.length);
      }),
    );
  });

  it('moves every task by as many days as the insemination day moves', () => {
    fc.assert(
      fc.property(anyWish, fc.integer({ min: -800, max: 800 }), (asked, shift) => {
        const moved = countBack({ ...asked, inseminate: addDays(asked.inseminate, shift) });
        expect(moved.map(({ from, to }) => [from, to])).toEqual(
          countBack(asked).map(({ from, to }) => [addDays(from, shift), addDays(to, shift)]),
        );
      }),
    );
  });

  it('refuses an impossible wish as misuse by our own code', () => {
    expect(() => countBack(wish({ queens: 0 }))).toThrow(/no-queens/);
  });
});

describe('the earliest insemination day', () => {
  it('waits for the slower side: comb, egg, drone and maturity', () => {
    const today = day('2027-05-20');
    expect(earliestInsemination(today, { profile: standardText })).toBe(addDays(today, 2 + 24 + 12));
    expect(earliestInsemination(today, { profile: standardText, droneAge: { from: 14, to: 21 } })).toBe('2027-06-29');
  });

  it('waits for the queens where old ones are wanted', () => {
    const asked = { profile: standardText, queenAge: 30, droneAge: { from: 12, to: 20 } };
    expect(earliestInsemination(day('2027-05-20'), asked)).toBe('2027-07-03');
  });
});
