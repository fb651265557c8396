import { describe, expect, it } from 'vitest';
import { figure, ranged } from './figure.ts';
import { learnedDays, learnedFigures, learnedSize } from './own-records.ts';
import { standardText } from './standard-text.ts';

const published = ranged({ value: 1.09, low: 0.72, high: 1.12 }, 'published', 'test');
const catches = (...means: number[]) => means.map((mean) => ({ mean, of: 40 }));

describe('a size learned from own catches', () => {
  it('is the published one without catches, moved a little by one, and one’s own from five on', () => {
    expect(learnedSize(published, [])).toBe(published);
    expect(learnedSize(published, catches(0.85)).value).toBeCloseTo((1.09 * 5 + 0.85) / 6, 12);
    const own = learnedSize(published, catches(0.8, 0.9, 1, 1.1, 0.95));
    expect(own).toMatchObject({ value: expect.closeTo(0.95, 12), basis: 'own records' });
    // Log-normal range worked out apart in Python 3 (math): exp(mean ± 1.645 sd) of the five logarithms, sd with n - 1.
    expect(own.low).toBeCloseTo(0.777, 4);
    expect(own.high).toBeCloseTo(1.1485, 4);
  });

  it('weighs a large catch more than a small one, and leaves out catches that gave nothing', () => {
    const five = [{ mean: 1, of: 100 }, ...catches(0.5, 0.5, 0.5, 0.5).map((each) => ({ ...each, of: 1 }))];
    expect(learnedSize(published, five).value).toBeCloseTo(102 / 104, 12);
    expect(learnedSize(published, [{ mean: 0, of: 12 }])).toBe(published);
  });
});

describe('days learned from own queens', () => {
  it('are the middle one, from the shortest to the longest, of five or more', () => {
    const twelve = figure(12, 'published', 'test');
    expect(learnedDays(twelve, [12, 12, 11])).toBe(twelve);
    expect(learnedDays(twelve, [12, 11, 12, 12, 13])).toMatchObject({ value: 12, low: 11, high: 13 });
  });
});

describe('figures learned', () => {
  it('say how many batches and counts they rest on, and leave out what nothing is known of', () => {
    const tallies = [14, 17, 18, 15, 16].map((successes) => ({ successes, trials: 20 }));
    const found = learnedFigures(standardText, {
      shares: {
        'survivals.accepted': tallies,
        'survivals.yielding': [],
        'survivals.layingQueens': [{ successes: 0, trials: 0 }],
      },
      sizes: { 'yields.perDrone': catches(1) },
      days: { 'timings.graftToEmergence': [12, 12] },
    });
    expect(found.map(({ key }) => key)).toEqual(['survivals.accepted', 'yields.perDrone']);
    expect(found[0]).toMatchObject({ batches: 5, counted: { successes: 80, trials: 100 } });
    expect(found[0]?.figure.value).toBeCloseTo(0.8, 2);
  });
});
