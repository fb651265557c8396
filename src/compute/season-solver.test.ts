import { describe, expect, it } from 'vitest';
import { underConditions } from '#domain/rearing/conditions.ts';
import { season, smallProfile } from '#domain/rearing/season/season.fixture.ts';
import { answerOf } from '#domain/rearing/season/season-answer.ts';
import { seasonFigures, seasonFrame } from '#domain/rearing/season/season-frame.ts';
import { worthOf } from '#domain/rearing/season/season-plan.ts';
import type { SeasonWish } from '#domain/rearing/season/season-wish.ts';
import type { Standing } from '#domain/rearing/season/standing.ts';
import { bestByTrying } from '#domain/rearing/season/try-all.fixture.ts';
import { randomStream } from '#numeric/random/random-stream.ts';
import { addDays, day } from '#units/calendar-day.ts';
import { explainShortfall, solveSeason } from './season-solver.ts';

const sum = (numbers: readonly number[]) => numbers.reduce((a, b) => a + b, 0);

/** A season beside others that stand, or with one cross raised from older larvae and warmer: no bar and no comb of another is of use to it. */
function besides(wish: SeasonWish, beside: string, dice: ReturnType<typeof randomStream>): SeasonWish {
  if (beside === 'nothing') return wish;
  if (beside === 'crosses being raised') return { ...wish, standing: someStanding(dice) };
  const profile = underConditions(smallProfile, { larvalAgeHours: 48, temperature: 36 });
  const [first, ...others] = wish.crosses;
  return first === undefined ? wish : { ...wish, crosses: [{ ...first, profile }, ...others] };
}

describe('small seasons against trying everything', () => {
  const seasons = Array.from({ length: 12 }, (_, i) => i + 1).flatMap((seed) => [
    { seed, beside: 'nothing' as const },
    { seed, beside: 'crosses being raised' as const },
    { seed, beside: 'a cross with times of its own' as const },
  ]);
  it.each(seasons)('season $seed beside $beside: as good as the best of all possible', async ({ seed, beside }) => {
    const dice = randomStream(seed);
    const plain = smallSeason(dice);
    const wish = besides(plain, beside, dice);
    const frame = seasonFrame(wish);
    const best = bestByTrying(frame);
    const answer = await solveSeason({ wish, seed: 1, milliseconds: 4000 });
    expect(answer.worth).toBeCloseTo(best.worth, 6);
    expect(answer.bound).toBeGreaterThanOrEqual(best.worth - 1e-6);
    expect(answer.gap).toBeLessThan(1e-4);
  });

  it('crosses being raised take something from most of these seasons', () => {
    const lost = [1, 2, 3, 4, 5, 6].filter((seed) => {
      const dice = randomStream(seed);
      const wish = smallSeason(dice);
      const best = (one: SeasonWish) => bestByTrying(seasonFrame(one, seasonFigures({ profile: smallProfile }))).worth;
      return best({ ...wish, standing: someStanding(dice), visitWorth: 0 }) < best({ ...wish, visitWorth: 0 });
    });
    expect(lost.length).toBeGreaterThanOrEqual(4);
  }, 60_000);

  it('wants the ends of a season, one dam, two mothers, one or two queens at a time to differ', () => {
    const wishes = Array.from({ length: 12 }, (_, i) => JSON.stringify(smallSeason(randomStream(i + 1)).crosses));
    expect(new Set(wishes).size).toBe(12);
  });
});

/** Two or three crosses of up to three queens on four days, with limits that bite. */
function smallSeason(dice: ReturnType<typeof randomStream>) {
  const from = day('2027-06-10');
  const crosses = Array.from({ length: 2 + dice.below(2) }, (_, i) => ({
    cross: `cross ${i}`,
    dam: `A${dice.below(2)}`,
    drones: [{ mother: `M${dice.below(2)}`, share: 1 }],
    queens: 1 + dice.below(3),
    dose: 8,
    worth: 1 + dice.below(2),
  }));
  return season({
    crosses,
    profile: smallProfile,
    from,
    to: addDays(from, 3),
    visitWorth: 0.1,
    limits: {
      queensPerDay: 2 + dice.below(2),
      cells: 7 + dice.below(6),
      nucs: 3 + dice.below(3),
      combsPerMother: 1,
      oneYardADay: dice.below(2) === 1,
      blockedDays: [addDays(from, dice.below(4))],
    },
    yards: { A0: 'hill', M0: 'wood', M1: 'hill' },
  });
}

/** A bar, a comb and queens of crosses that are left alone, on days that get in the way. */
function someStanding(dice: ReturnType<typeof randomStream>): Standing {
  const from = day('2027-06-10');
  const on = addDays(from, dice.below(4));
  const graft = addDays(on, -20 + dice.below(2));
  return {
    bars: [
      { dam: `A${dice.below(2)}`, day: graft, larvae: 2 + dice.below(4), accepted: null, queens: 1 },
      { dam: 'A0', day: addDays(from, -20), larvae: 3, accepted: dice.below(2) === 0 ? null : 2, queens: 1 },
    ],
    combs: [{ mothers: [`M${dice.below(2)}`], day: addDays(from, -48 + dice.below(14)), combs: 1 }],
    queens: [{ on, queens: 1 + dice.below(2), nucs: 1 + dice.below(2), nucsFrom: addDays(graft, 12) }],
  };
}

describe('a season of six crosses on three days', () => {
  const on = ['2027-06-12', '2027-06-19', '2027-06-26'].map(day);
  const wish = season({
    crosses: Array.from({ length: 6 }, (_, i) => ({
      cross: `cross ${i + 1}`,
      dam: `A${i % 3}`,
      drones: [{ mother: `M${i % 2}`, share: 1 }],
      queens: 12,
      dose: 8,
      earliest: on[i % 3] ?? day('2027-06-12'),
      latest: on[i % 3] ?? day('2027-06-12'),
    })),
    from: day('2027-06-10'),
    to: day('2027-06-30'),
    limits: { queensPerDay: 30, cells: 120, nucs: 100, combsPerMother: 3 },
  });

  it('does all 72 queens, one bar a dam and day, proven within a twentieth of a queen', async () => {
    const answer = await solveSeason({ wish, seed: 1, milliseconds: 3000 });
    expect(answer.queens).toEqual([12, 12, 12, 12, 12, 12]);
    expect(answer.bound - answer.worth).toBeLessThan(0.2);
    const bars = new Set(answer.plan.placements.map(({ cross, graft }) => `${cross % 3}.${graft}`));
    expect(bars.size).toBe(3);
  });

  it('names the two or three limits that clash when not all can be done', async () => {
    const few = { ...wish, limits: { ...wish.limits, queensPerDay: 10 } };
    expect(await explainShortfall(few)).toEqual(['queensPerDay', 'dates']);
    const fewer = { ...wish, limits: { ...wish.limits, cells: 40 } };
    expect(await explainShortfall(fewer)).toEqual(['cells', 'dates']);
    expect(await explainShortfall(wish)).toBeNull();
  });

  it('says so when the day is simply too near', async () => {
    const late = { ...wish, today: day('2027-06-05') };
    expect(await explainShortfall(late)).toEqual(['today']);
  });
});

describe('a large season', () => {
  it('is answered in time, within one queen in a hundred of the best', async () => {
    const dice = randomStream(3);
    const from = day('2027-05-20');
    const wish = season({
      crosses: Array.from({ length: 30 }, (_, i) => ({
        cross: `cross ${i}`,
        dam: `A${dice.below(21)}`,
        drones: [{ mother: `M${dice.below(12)}`, share: 1 }],
        queens: 4 + dice.below(16),
        dose: 8,
        earliest: addDays(from, dice.below(30)),
      })),
      from,
      to: addDays(from, 59),
      limits: { queensPerDay: 30, cells: 90, incubatorPlaces: 120, nucs: 150, combsPerMother: 3 },
    });
    const answer = await solveSeason({ wish, seed: 1, milliseconds: 6000 });
    expect(answer.gap).toBeLessThan(0.01);
    const again = answerOf(answer.plan, seasonFrame(wish), answer.bound);
    expect(again.worth).toBeCloseTo(worthOf(answer.plan, seasonFrame(wish)), 9);
    expect(sum(again.queens)).toBe(sum(answer.queens));
  }, 30_000);
});
