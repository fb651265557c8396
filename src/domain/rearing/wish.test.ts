import { describe, expect, it } from 'vitest';
import { day } from '#units/calendar-day.ts';
import { shippedProfiles } from './profiles.ts';
import { standardText } from './standard-text.ts';
import { refusalsOf, type Wish } from './wish.ts';
import { warningsOf } from './wish-warnings.ts';

const wish = (more: Partial<Wish> = {}): Wish => ({
  inseminate: day('2027-06-12'),
  queens: 12,
  profile: standardText,
  ...more,
});
const refused = (more: Partial<Wish>) => refusalsOf(wish(more)).map(({ path, code }) => `${path} ${code}`);
const warned = (more: Partial<Wish>, today?: string) =>
  warningsOf(wish(more), today === undefined ? undefined : day(today)).map(({ code }) => code);

describe('an impossible wish', () => {
  it.each([
    [{ queens: 0 }, 'queens no-queens'],
    [{ queens: -3 }, 'queens no-queens'],
    [{ queens: 2.5 }, 'queens not-whole-queens'],
    [{ queens: Number.NaN }, 'queens no-queens'],
    [{ queenAge: 0 }, 'queenAge queen-age-impossible'],
    [{ queenAge: 7.5 }, 'queenAge queen-age-impossible'],
    [{ droneAge: { from: 21, to: 14 } }, 'droneAge drone-age-backwards'],
    [{ droneAge: { from: -1, to: 14 } }, 'droneAge drone-age-impossible'],
    [{ doses: 3 as 2 }, 'doses doses-one-or-two'],
    [{ holdDays: -1 }, 'holdDays hold-days-impossible'],
    [{ eggsSeen: day('2027-06-01') }, 'eggsSeen eggs-before-insemination'],
  ])('%o is refused by name', (more, expected) => {
    expect(refused(more)).toEqual([expected]);
  });

  it('names everything that is wrong at once', () => {
    expect(refused({ queens: 0, holdDays: 1.5 })).toHaveLength(2);
  });
});

describe('a wish outside the usual', () => {
  it.each(shippedProfiles.map((profile) => [profile.name, profile] as const))(
    'says nothing about the usual ages of %s',
    (_, profile) => {
      expect(warned({ profile })).toEqual([]);
    },
  );

  it.each([
    [{ queenAge: 4 }, ['queens-too-young']],
    [{ queenAge: 15 }, ['queens-too-old']],
    [{ queenAge: 12 }, ['queens-outside-preferred']],
    [{ queenAge: 13, doses: 2 as const }, ['queens-outside-preferred', 'second-dose-too-old']],
    [{ droneAge: { from: 10, to: 20 } }, ['drones-too-young']],
    [{ droneAge: { from: 10, to: 30 } }, ['drones-too-young', 'drones-too-old']],
    [{ droneAge: { from: 14, to: 28 } }, ['drones-outside-preferred']],
    [{ holdDays: 8 }, ['held-past-first-check']],
  ])('%o is warned about', (more, expected) => {
    expect(warned(more)).toEqual(expected);
  });

  it('does not know which day it is unless told', () => {
    expect(warned({ inseminate: day('1999-06-12') })).toEqual([]);
  });

  it('a past day, and a day too near with the earliest day still possible', () => {
    expect(warned({}, '2027-06-13')).toEqual(['day-past']);
    const near = warningsOf(wish(), day('2027-05-10'));
    expect(near[0]).toMatchObject({ code: 'day-too-near', values: { earliest: '2027-06-17' } });
    expect(near.slice(1).map(({ values }) => values.key)).toEqual(['drone-comb-in', 'drone-egg-check']);
    expect(near[1]?.values).toMatchObject({ day: '2027-04-26', ago: 14 });
  });

  it('a day far enough ahead is not too near', () => {
    expect(warned({}, '2027-04-26')).toEqual([]);
  });
});
