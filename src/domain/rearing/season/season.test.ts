import { describe, expect, it } from 'vitest';
import { randomStream } from '#numeric/random/random-stream.ts';
import { addDays, day, daysBetween } from '#units/calendar-day.ts';
import { standardText } from '../standard-text.ts';
import { clashingLimits, type LimitName, limitsIn, without } from './clash.ts';
import { brokenBy, ModelBuilder, provenBound, worthOfValues } from './linear-model.ts';
import { searchSeason } from './plan-search.ts';
import { season } from './season.fixture.ts';
import { plainBound } from './season-answer.ts';
import { dayPlansOf, graftsOf, seasonChances } from './season-chances.ts';
import { type SeasonFrame, seasonFigures, seasonFrame } from './season-frame.ts';
import { queensOf, visitsOf, worthOf } from './season-plan.ts';
import { seasonTasks } from './season-task.ts';
import { type SeasonWish, seasonRefusals } from './season-wish.ts';
import type { Standing } from './standing.ts';
import { holdsLimits } from './try-all.fixture.ts';

const from = day('2027-06-10');
const cross = (name: string, more = {}) => ({
  cross: name,
  dam: 'A',
  drones: [{ mother: 'M', share: 1 }],
  queens: 12,
  dose: 8,
  ...more,
});
const plain = (more: Parameters<typeof season>[0] | object = {}) =>
  season({ crosses: [cross('B')], from, to: addDays(from, 20), ...more });
const tries = (n: number) => (attempts: number) => attempts < n;
const figures = seasonFigures({ profile: standardText });
const solve = (wish: SeasonWish, n = 100) => {
  const frame = seasonFrame(wish, figures);
  return { frame, plan: searchSeason(frame, 1, tries(n)) };
};
const dateOf = (frame: SeasonFrame, at: number) => addDays(frame.first, at);

describe('an impossible wish for a season', () => {
  it.each([
    [{ crosses: [] }, 'crosses no-crosses'],
    [{ crosses: [cross('B', { queens: 0 })] }, 'crosses.0.queens no-queens'],
    [{ crosses: [cross('B', { queens: 1.5 })] }, 'crosses.0.queens not-whole-queens'],
    [{ crosses: [cross('B', { dose: 0 })] }, 'crosses.0.dose not-above-zero'],
    [{ crosses: [cross('B', { drones: [] })] }, 'crosses.0.drones no-drone-mother'],
    [{ crosses: [cross('B', { drones: [{ mother: 'M', share: 0.6 }] })] }, 'crosses.0.drones shares-not-one'],
    [{ crosses: [cross('B', { earliest: '2027-06-20', latest: '2027-06-12' })] }, 'crosses.0.latest wishes-contradict'],
    [{ crosses: [cross('B'), cross('B')] }, 'crosses.1.cross cross-twice'],
    [{ to: day('2027-06-01') }, 'to season-backwards'],
    [{ to: day('2029-06-01') }, 'to season-too-long'],
    [{ limits: { queensPerDay: -1 } }, 'limits.queensPerDay not-zero-or-more'],
    [{ sure: 1 }, 'sure not-a-share'],
  ])('%o is refused by name', (more, expected) => {
    expect(seasonRefusals(plain(more)).map(({ path, code }) => `${path} ${code}`)).toEqual([expected]);
  });

  it('nothing is wrong with a plain one', () => {
    expect(seasonRefusals(plain())).toEqual([]);
  });
});

/** Bars, combs and queens of crosses that are left alone. */
const standingOf = (dice: ReturnType<typeof randomStream>): Standing => ({
  bars: Array.from({ length: 3 }, () => ({
    dam: `A${dice.below(4)}`,
    day: addDays(from, dice.below(20) - 22),
    larvae: 10 + dice.below(20),
    accepted: dice.below(2) === 0 ? null : 5 + dice.below(5),
    queens: 5,
  })),
  combs: Array.from({ length: 3 }, () => ({
    mothers: [`M${dice.below(3)}`],
    day: addDays(from, dice.below(30) - 60),
    combs: 1 + dice.below(2),
  })),
  queens: Array.from({ length: 3 }, () => {
    const on = addDays(from, dice.below(20));
    return { on, queens: 1 + dice.below(10), nucs: 3 + dice.below(10), nucsFrom: addDays(on, -8) };
  }),
});

describe('a searched season', () => {
  it('gives one cross its queens on one day from one graft, with combs that are ripe then', () => {
    const { frame, plan } = solve(plain());
    expect(queensOf(plan, frame)).toEqual([12]);
    expect(plan.placements).toHaveLength(1);
    const [{ day: on, graft } = { day: 0, graft: 0 }] = plan.placements;
    expect(on - graft - 12).toBeGreaterThanOrEqual(6);
    expect(on - graft - 12).toBeLessThanOrEqual(9);
    for (const comb of plan.combs) expect(on - comb.in - 2 - 24).toBeGreaterThanOrEqual(12);
    expect(visitsOf(plan, frame)).toHaveLength(3);
  });

  it('shares a bar between two crosses of one dam, and combs between two days of one mother', () => {
    const wish = plain({ crosses: [cross('B'), cross('C', { drones: [{ mother: 'N', share: 1 }] })] });
    const { frame, plan } = solve(wish);
    expect(queensOf(plan, frame)).toEqual([12, 12]);
    expect(new Set(plan.placements.map(({ graft }) => graft)).size).toBe(1);
    const days = plain({
      crosses: [
        cross('B', { queens: 4, dam: 'A', earliest: addDays(from, 2), latest: addDays(from, 2) }),
        cross('C', { queens: 4, dam: 'Z', earliest: addDays(from, 5), latest: addDays(from, 5) }),
      ],
    });
    expect(solve(days).plan.combs).toHaveLength(1);
  });

  it('keeps every limit, whatever they are', () => {
    for (let seed = 1; seed <= 25; seed++) {
      const dice = randomStream(seed);
      const crosses = Array.from({ length: 2 + dice.below(8) }, (_, i) =>
        cross(`c${i}`, {
          dam: `A${dice.below(4)}`,
          drones:
            dice.below(2) === 0
              ? [{ mother: `M${dice.below(3)}`, share: 1 }]
              : [
                  { mother: 'M0', share: 0.6 },
                  { mother: 'M1', share: 0.4 },
                ],
          queens: 1 + dice.below(20),
        }),
      );
      const limits = {
        cells: dice.below(2) === 0 ? null : 10 + dice.below(60),
        incubatorPlaces: dice.below(2) === 0 ? null : 10 + dice.below(60),
        nucs: dice.below(2) === 0 ? null : 5 + dice.below(60),
        combsPerMother: dice.below(2) === 0 ? null : 1 + dice.below(2),
        queensPerDay: dice.below(2) === 0 ? null : 1 + dice.below(20),
        oneYardADay: dice.below(2) === 0,
        blockedDays: Array.from({ length: 10 }, () => addDays(from, dice.below(80) - 60)),
      };
      const yards = { A0: 'hill', A1: 'wood', M0: 'wood', M1: 'hill' };
      const standing = dice.below(2) === 0 ? undefined : standingOf(dice);
      const { frame, plan } = solve(plain({ crosses, limits, yards, ...(standing && { standing }) }), 60);
      expect(holdsLimits(plan, frame), `seed ${seed}`).toBe(true);
      expect(worthOf(plan, frame)).toBeLessThanOrEqual(plainBound(frame));
    }
  });

  it('is the same for the same seed and attempts', () => {
    const wish = plain({ crosses: [cross('B'), cross('C'), cross('D')], limits: { queensPerDay: 10 } });
    expect(solve(wish).plan).toEqual(solve(wish).plan);
  });

  it('begins nothing before today', () => {
    const { frame, plan } = solve(plain({ today: addDays(from, -35) }));
    for (const comb of plan.combs) expect(dateOf(frame, comb.in) >= addDays(from, -35)).toBe(true);
    expect(queensOf(plan, frame)).toEqual([12]);
    expect(queensOf(solve(plain({ today: from })).plan, frame)).toEqual([0]);
  });
});

describe('the chances and tasks of a season', () => {
  const wish = plain({
    crosses: [cross('B'), cross('C', { drones: [{ mother: 'N', share: 1 }] })],
    yards: { A: 'hill', M: 'wood' },
  });
  const { frame, plan } = solve(wish);

  it('graft the exact number of larvae for the chance wished, never more than planned with', () => {
    for (const { queens, larvae } of graftsOf(plan, frame))
      for (const { larvae: line } of frame.raisings)
        expect(larvae).toBeLessThanOrEqual(line.base + line.perQueen * queens + 1e-9);
  });

  it('make every link of every day as sure as wished', () => {
    for (const { readiness } of seasonChances(plan, frame))
      for (const link of readiness.links)
        expect(link.chance, `${link.side} ${link.mother}`).toBeGreaterThanOrEqual(0.895);
  });

  it('begin each day as a plan of its own', () => {
    const [one] = dayPlansOf(plan, frame);
    expect(one?.queens[0]).toMatchObject({ dam: 'A', wanted: 24 });
    expect(one?.drones.map(({ mother }) => mother).sort()).toEqual(['M', 'N']);
  });

  it('name every task once, with yard and crosses', () => {
    const tasks = seasonTasks(plan, frame);
    expect(new Set(tasks.map(({ key, of }) => `${of} ${key}`)).size).toBe(tasks.length);
    const graft = tasks.find(({ key }) => key === 'graft');
    expect(graft).toMatchObject({ of: 'graft:A:1', yard: 'hill', crosses: ['B', 'C'], mother: 'A' });
    expect(graft?.values).toMatchObject({ queens: 24 });
    const [comb] = tasks.filter(({ key, mother }) => key === 'drone-comb-in' && mother === 'M');
    expect(comb).toMatchObject({ of: 'comb:M:1', yard: 'wood', crosses: ['B'] });
    expect([...tasks.map(({ day }) => day)].sort()).toEqual(tasks.map(({ day }) => day));
  });

  it('fall on the days of the plan', () => {
    const tasks = seasonTasks(plan, frame);
    const [placement] = plan.placements;
    const dayOf = (key: string) => tasks.find((task) => task.key === key)?.day;
    expect(dayOf('graft')).toBe(dateOf(frame, placement?.graft ?? 0));
    expect(dayOf('inseminate')).toBe(dateOf(frame, placement?.day ?? 0));
    expect(dayOf('first-co2')).toBe(dateOf(frame, (placement?.day ?? 0) - 1));
    expect(dayOf('trial-eversion')).toBe(dateOf(frame, (placement?.day ?? 0) - 2));
    for (const comb of plan.combs)
      expect(tasks.some(({ key, day: on }) => key === 'drone-comb-in' && on === dateOf(frame, comb.in))).toBe(true);
    const eggs = tasks.find(({ key }) => key === 'drone-eggs');
    expect(daysBetween(dayOf('drone-comb-in') ?? from, eggs?.from ?? from)).toBe(2);
  });
});

describe('clashing limits', () => {
  const all: LimitName[] = ['cells', 'nucs', 'queensPerDay', 'blockedDays', 'dates', 'today'];
  const wish = plain({
    today: addDays(from, -60),
    limits: { cells: 1, nucs: 1, queensPerDay: 1, blockedDays: [from] },
    crosses: [cross('B', { latest: from })],
  });
  /** A stand-in for the solver: impossible as long as all of some limits stand. */
  const impossibleWhile = (names: LimitName[]) => async (one: SeasonWish) => {
    const standing = limitsIn(one);
    return names.every((name) => standing.includes(name));
  };

  it('are the fewest that stand in the way together', async () => {
    expect(limitsIn(wish)).toEqual(all);
    expect(await clashingLimits(wish, impossibleWhile(['nucs', 'dates']))).toEqual(['nucs', 'dates']);
    expect(await clashingLimits(wish, impossibleWhile(['cells', 'blockedDays', 'today']))).toEqual([
      'cells',
      'blockedDays',
      'today',
    ]);
  });

  it('are none when the wish is possible, or impossible in itself', async () => {
    expect(await clashingLimits(wish, async () => false)).toBeNull();
    expect(await clashingLimits(wish, async () => true)).toEqual([]);
  });

  it('can be taken away one by one', () => {
    expect(without(wish, ['cells']).limits).toMatchObject({ cells: null, nucs: 1 });
    expect(limitsIn(without(wish, all))).toEqual([]);
  });
});

describe('a linear model', () => {
  const builder = new ModelBuilder();
  const a = builder.column({ high: 4, worth: 3 });
  const b = builder.column({ high: 10, worth: 2, whole: true });
  builder.atMost(12, [
    [a, 1],
    [b, 2],
  ]);
  builder.atLeast(1, [[b, 1]]);
  const model = builder.model();

  it('measures values and what they break', () => {
    expect(worthOfValues(model, Float64Array.of(4, 4))).toBe(20);
    expect(brokenBy(model, Float64Array.of(4, 4))).toBe(0);
    expect(brokenBy(model, Float64Array.of(4, 5))).toBe(2);
    expect(brokenBy(model, Float64Array.of(5, 1))).toBe(1);
  });

  it('has a proven bound from any prices, the best from the right ones', () => {
    expect(provenBound(model, Float64Array.of(1, 0))).toBeCloseTo(20, 12);
    expect(provenBound(model, Float64Array.of(0, 0))).toBe(32);
    for (const prices of [
      [2, 0],
      [0.5, -1],
      [-1, 3],
    ])
      expect(provenBound(model, Float64Array.from(prices))).toBeGreaterThanOrEqual(20);
  });

  it('wants finite bounds', () => {
    expect(() => builder.column({ high: Number.POSITIVE_INFINITY })).toThrow(RangeError);
  });
});
