import { describe, expect, test } from 'vitest';
import { randomStream } from '#numeric/random/random-stream.ts';
import { addDays, day } from '#units/calendar-day.ts';
import golden from '../../../tests/golden/lessons/regressions.json';
import { type QueenLife, survivalByGroup } from './survival-by-group.ts';

const born = day('2025-06-01');
const life = (group: string | null, from: number, to: number, isLost: boolean): QueenLife => ({
  queen: 'Q',
  group,
  emerged: born,
  watchedFrom: addDays(born, from),
  watchedTo: addDays(born, to),
  isLost,
});

describe('how long queens of groups last', () => {
  test('240 cases with late beginnings: shares and three ratios as R survival gives them', () => {
    const { many } = golden;
    const lives = many.time.map((time, i) =>
      life(`g${many.group[i]}`, many.from[i] as number, time, many.happened[i] === 1),
    );
    const { groups, ratios, test: rank, noRatio } = survivalByGroup(lives, { against: 'g0' });
    expect(groups.map(({ queens }) => queens)).toEqual([0, 1, 2].map((g) => many.group.filter((x) => x === g).length));
    // R: coxph(Surv(from, time, happened) ~ a + b, ties = "efron") in make_regressions.R.
    ratios.forEach(({ ratio }, k) => {
      expect(Math.log(ratio.value)).toBeCloseTo(many.groupsOnly.coefficients[k] as number, 6);
      const error = many.groupsOnly.standardErrors[k] as number;
      expect(Math.log(ratio.high)).toBeCloseTo(Math.log(ratio.value) + 1.959964 * error, 5);
    });
    expect(noRatio).toBeNull();
    expect(rank?.p).toBeGreaterThan(0);
  });

  test('twelve in two groups: log-rank 1.690289 is p = 0.1936 (R pchisq), easily luck', () => {
    const { twelve } = golden;
    const lives = twelve.time.map((time, i) => life(`g${twelve.group[i]}`, 0, time, twelve.happened[i] === 1));
    const told = survivalByGroup(lives);
    expect(told.test?.p).toBeCloseTo(0.19356, 5);
    expect(told.test?.luck).toBe('easily');
    expect(told.ratios[0]?.ratio.value).toBeCloseTo(Math.exp(-1.083478), 6);
  });

  test('a bought queen counts only from the day she came: others lost before are not known', () => {
    const own = Array.from({ length: 20 }, (_, i) => life('own', 20, 40 + 30 * i, true));
    const bought = Array.from({ length: 20 }, (_, i) => life('bought', 20 + 30 * i, 40 + 30 * i, true));
    const late = survivalByGroup([...own, ...bought]);
    const wrong = survivalByGroup([...own, ...bought.map((one) => ({ ...one, watchedFrom: addDays(born, 20) }))]);
    expect(wrong.ratios[0]?.ratio.value).toBeCloseTo(1, 6);
    // Bought ones are seen for twenty days each and lost in them: against these the book's own last far longer.
    expect(late.ratios[0]).toMatchObject({ group: 'own', against: 'bought' });
    expect(late.ratios[0]?.ratio.high).toBeLessThan(0.5);
  });

  test('a difference that turns round with age is said', () => {
    const random = randomStream(8);
    const early = Array.from({ length: 80 }, () => life('a', 1, 3 + random.below(40), true));
    const lateLosses = Array.from({ length: 80 }, () => life('b', 1, 300 + random.below(30), true));
    const survivors = Array.from({ length: 80 }, () => life('a', 1, 400 + random.below(300), true));
    expect(survivalByGroup([...early, ...lateLosses, ...survivors]).changesWithAge).toBe(true);
  });

  test('the order of queens does not matter, nor the groups too small to compare', () => {
    const lives = golden.twelve.time.map((time, i) => life(`g${i % 2}`, 0, time, golden.twelve.happened[i] === 1));
    const { ratios } = survivalByGroup(lives);
    const more = survivalByGroup([...lives].reverse().concat(life('z', 3, 50, true)));
    expect(more.ratios).toEqual(ratios.map((one) => expect.objectContaining({ group: one.group })));
    expect(more.ratios[0]?.ratio.value).toBeCloseTo(ratios[0]?.ratio.value as number, 9);
    expect(more.groups.find(({ group }) => group === 'z')).toMatchObject({ few: true, queens: 1, lost: 1 });
  });

  test('no losses in one group: the test stands, a ratio has no end and is refused', () => {
    const lost = Array.from({ length: 8 }, (_, i) => life('a', 1, 50 + i, true));
    const kept = Array.from({ length: 8 }, (_, i) => life('b', 1, 100 + i, false));
    const told = survivalByGroup([...lost, ...kept]);
    expect(told).toMatchObject({ noRatio: 'no-loss-in-group', ratios: [] });
    expect(told.test?.p).toBeLessThan(0.01);
  });

  test('too little to compare, and every queen left out is counted with her reason', () => {
    const some = Array.from({ length: 6 }, (_, i) => life('a', 1, 50 + i, i < 2));
    expect(survivalByGroup(some)).toMatchObject({ noRatio: 'one-group', test: null });
    expect(survivalByGroup([...some, ...some.map((one) => ({ ...one, group: 'b' }))])).toMatchObject({
      noRatio: 'few-losses',
    });
    const out = survivalByGroup([
      life(null, 1, 2, true),
      { ...life('a', 1, 2, true), emerged: null },
      { ...life('a', 1, 2, true), watchedFrom: null },
      life('a', 5, 5, false),
      life('a', 5, 9, false),
    ]);
    expect(out.leftOut).toEqual([
      { why: 'no-group', queens: 1 },
      { why: 'no-emergence', queens: 1 },
      { why: 'never-seen-laying', queens: 1 },
      { why: 'not-seen-since', queens: 1 },
    ]);
    expect(out.groups[0]?.queens).toBe(1);
  });
});
