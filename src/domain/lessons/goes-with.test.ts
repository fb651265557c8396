import { describe, expect, test } from 'vitest';
import { randomStream } from '#numeric/random/random-stream.ts';
import { logistic } from '#numeric/regression/logistic.ts';
import { day } from '#units/calendar-day.ts';
import { goesWith } from './goes-with.ts';
import type { Outcome } from './outcome.ts';

const outcome = (n: number, laying: boolean | null, factors: Record<string, string>): Outcome => ({
  queen: String(n),
  inseminated: day('2027-06-12'),
  laying,
  layingOn: null,
  checkedOn: day('2027-07-12'),
  lostOn: null,
  fate: null,
  factors,
});

/** Queens of three operators and `tubes` tubes; older semen lays less, tip 2 as tip 1. */
function season(seed: number, n: number, tubes = 20): Outcome[] {
  const random = randomStream(seed);
  const tube = Array.from({ length: tubes }, () => 0.6 * random.normal());
  return Array.from({ length: n }, (_, i) => {
    const [batch, days] = [random.below(tubes), random.below(15)];
    const laying = random.uniform() < logistic(2.6 - 0.2 * days + (tube[batch] as number));
    const operator = ['Mira', 'Tadek', 'Oda'][random.below(3)] as string;
    return outcome(i, laying, {
      operator,
      batch: `C-${batch}`,
      storage_days: String(days),
      queen_age: String(6 + random.below(6)),
      tip: String(1 + random.below(2)),
      co2: '2',
    });
  });
}

describe('what goes with laying', () => {
  const told = goesWith(season(1, 400));

  test('finds the age of the semen (drawn with 0.2 log odds a day) and not the tip, which does nothing', () => {
    const semen = told.effects.find(({ factor }) => factor === 'storage_days');
    const tip = told.effects.find(({ factor }) => factor === 'tip');
    expect(semen?.luck).toBe('hardly');
    expect(semen?.odds.low).toBeLessThan(Math.exp(-0.2));
    expect(semen?.odds.high).toBeGreaterThan(Math.exp(-0.2));
    expect(semen).toMatchObject({ least: 0, most: 14, group: null });
    expect(tip?.luck).toBe('easily');
    expect(tip?.share.low).toBeLessThan(told.usual);
    expect(tip?.share.high).toBeGreaterThan(told.usual);
  });

  test('operators all alike are drawn together and none stands apart', () => {
    const operators = told.random.find(({ factor }) => factor === 'operator');
    expect(operators?.levels).toHaveLength(3);
    expect(operators?.apart).toBe(0);
    const shares = operators?.levels.map(({ share }) => share.value) ?? [];
    expect(Math.max(...shares) - Math.min(...shares)).toBeLessThan(0.1);
    const tubes = told.random.find(({ factor }) => factor === 'batch');
    expect(tubes?.poor).toBeLessThan(told.usual);
    expect(tubes?.good).toBeGreaterThan(told.usual);
  });

  test('says what is not in it and why, and counts every queen once', () => {
    expect(told.notUsed).toContainEqual({ factor: 'co2', why: 'same-for-all' });
    const open = goesWith([...season(1, 400), outcome(401, null, {}), outcome(402, true, { operator: 'Mira' })]);
    expect(open.leftOut).toEqual({ open: 1, notWritten: 1 });
    expect(open.used).toBe(400);
  });

  test('the order of queens, and a queen not known yet, change nothing', () => {
    const turned = goesWith([...season(1, 400), outcome(999, null, {})].reverse());
    expect(turned.effects[0]?.odds.value).toBeCloseTo(told.effects[0]?.odds.value as number, 8);
    expect(turned.used).toBe(told.used);
  });

  test('two factors that always change together: the second is left out and said', () => {
    const both = season(2, 300).map((one) => {
      const days = Number(one.factors.storage_days);
      return { ...one, factors: { ...one.factors, dose: String(8 + days / 2) } };
    });
    const { notUsed, effects } = goesWith(both);
    expect(notUsed).toContainEqual({ factor: 'dose', why: 'goes-along' });
    expect(effects.some(({ factor }) => factor === 'storage_days')).toBe(true);
  });

  test('a tip of which all fail has no odds: it is left out and said', () => {
    const bad = season(3, 300).map((one, i) =>
      i % 10 === 0
        ? { ...one, laying: false, factors: { ...one.factors, tip: '9' } }
        : { ...one, factors: { ...one.factors, tip: '1' } },
    );
    const { notUsed, refused } = goesWith(bad);
    expect(refused).toBeNull();
    expect(notUsed).toContainEqual({ factor: 'tip', why: 'parted' });
  });

  test('few failures carry few coefficients; the rest waits', () => {
    const few = season(4, 200).map((one, i) => ({ ...one, laying: i >= 8 }));
    const { notUsed, effects } = goesWith(few);
    expect(effects).toHaveLength(1);
    expect(notUsed).toContainEqual({ factor: 'queen_age', why: 'too-few-ends' });
  });
});

test.each([
  ['few-ends', season(5, 29)],
  ['few-failures', season(5, 60).map((one, i) => ({ ...one, laying: i > 3 }))],
  ['few-laying', season(5, 60).map((one, i) => ({ ...one, laying: i < 4 }))],
  ['nothing-differs', season(5, 60).map((one, i) => ({ ...one, laying: i % 2 === 0, factors: { tip: '3' } }))],
] as const)('refused: %s', (refused, outcomes) => {
  expect(goesWith(outcomes)).toMatchObject({ refused, effects: [], random: [] });
});
