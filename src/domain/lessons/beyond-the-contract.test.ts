import { describe, expect, it } from 'vitest';
import { addDays, day } from '#units/calendar-day.ts';
import { funnelOf } from './funnel.ts';
import { type Clocked, lastInseminated, latenessOf, layingBy, layingSteps } from './laying-clock.ts';
import { stairsOf } from './losses.ts';
import { luckOf } from './luck.ts';
import type { Outcome } from './outcome.ts';
import { OUTCOME_COLUMNS, outcomeRows } from './outcomes-table.ts';
import { readOutcomes } from './read-outcomes.ts';
import { rateOf } from './tally.ts';
import { changedTogether } from './together.ts';

const on = day('2027-06-12');
const outcome = (more: Partial<Outcome> = {}): Outcome => ({
  queen: 'q',
  inseminated: on,
  laying: null,
  layingOn: null,
  checkedOn: null,
  lostOn: null,
  fate: null,
  factors: {},
  ...more,
});

describe('the funnel', () => {
  it('draws a group of four hollow and never calls it out of the band, a group of forty it does', () => {
    const funnel = funnelOf(
      [
        { group: '3', known: rateOf(0, 4) },
        { group: '4', known: rateOf(20, 40) },
        { group: '5', known: rateOf(0, 0) },
      ],
      0.85,
    );
    expect(funnel?.points.map(({ group, hollow, outside }) => [group, hollow, outside])).toEqual([
      ['3', true, null],
      ['4', false, 'below'],
    ]);
    expect(funnel?.band.length).toBe(40);
  });
  it('is nothing when nothing is known', () =>
    expect(funnelOf([{ group: 'a', known: rateOf(0, 0) }], null)).toBeNull());
});

describe('luck', () => {
  it('reads a chance for as many groups as were compared', () => {
    expect(luckOf(0.04, 1)).toBe('perhaps');
    expect(luckOf(0.04, 5)).toBe('easily');
    expect(luckOf(0.001, 5)).toBe('hardly');
    expect(luckOf(1, 0)).toBe('easily');
  });
});

describe('factors that changed together', () => {
  const queens = (n: number, factors: Record<string, string>) => Array.from({ length: n }, () => outcome({ factors }));
  it('tells that tip 3 was used only with stored semen', () => {
    const all = [...queens(4, { tip: '3', storage_days: '5' }), ...queens(10, { tip: '4', storage_days: '0' })];
    const found = changedTogether(all, { by: 'tip', factors: ['tip', 'storage_days'] });
    expect(found.map(({ group, factor, value, inside, outside }) => [group, factor, value, inside, outside])).toEqual([
      ['3', 'storage_days', '5', 4, 0],
      ['4', 'storage_days', '0', 10, 0],
    ]);
  });
  it('says nothing when others have it too, or of two queens', () => {
    const mixed = [...queens(4, { tip: '3', saline: 'S1' }), ...queens(10, { tip: '4', saline: 'S1' })];
    expect(changedTogether(mixed, { by: 'tip', factors: ['saline'] })).toEqual([]);
    const two = [...queens(2, { tip: '3', saline: 'S1' }), ...queens(10, { tip: '4', saline: 'S2' })];
    expect(changedTogether(two, { by: 'tip', factors: ['saline'] }).map(({ group }) => group)).toEqual([]);
  });
});

describe('the losses stairs', () => {
  it('counts only queens whose story is known that far, sold ones not as lost', () => {
    const checked = addDays(on, 10);
    const queens = [
      outcome({ laying: true, checkedOn: checked }),
      outcome({ laying: true, checkedOn: checked, lostOn: addDays(on, 90), fate: 'superseded' }),
      outcome({ laying: true, checkedOn: checked, lostOn: addDays(on, 90), fate: 'sold' }),
      outcome({ laying: false, checkedOn: checked }),
      outcome({ laying: false, lostOn: addDays(on, 2), fate: 'lost' }),
      outcome(),
    ];
    expect(stairsOf(queens).map(({ step, reached, of }) => [step, reached, of])).toEqual([
      ['inseminated', 6, 6],
      ['alive-at-check', 4, 5],
      ['laying', 3, 5],
      ['still-there', 1, 4],
    ]);
  });
});

describe('the laying clock', () => {
  const clocked = (more: Partial<Clocked>): Clocked => ({
    queen: 'q',
    inseminated: on,
    eggsOn: null,
    watchedTo: null,
    lostWithout: false,
    ...more,
  });
  it('counts who had eggs by a day, leaving out those nobody looked at so late', () => {
    const queens = [
      clocked({ eggsOn: addDays(on, 7), watchedTo: addDays(on, 7) }),
      clocked({ eggsOn: addDays(on, 12), watchedTo: addDays(on, 12) }),
      clocked({ watchedTo: addDays(on, 9) }),
      clocked({ lostWithout: true }),
    ];
    expect(layingBy(queens, 7)).toEqual({ day: 7, laying: 1, of: 4 });
    expect(layingBy(queens, 12)).toEqual({ day: 12, laying: 2, of: 3 });
    expect(layingSteps(queens, 12).map(({ laying }) => laying)).toEqual([0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 2]);
  });
  // Onset after two treatments: median 7-9 days, most by 10, worry at 14 (Gabka, Gabka and Zajdel 2022, J. Apic. Sci.).
  it('calls a queen late when nine of ten that ever laid had eggs by now', () => {
    const past = [5, 6, 7, 7, 8, 8, 9, 9, 10, 14].map((days) => clocked({ eggsOn: addDays(on, days) }));
    expect(latenessOf(past, 9)).toBe('in-time');
    expect(latenessOf(past, 10)).toBe('late');
    expect(latenessOf(past, 14)).toBe('very-late');
    expect(latenessOf(past.slice(0, 9), 20)).toBe('too-few');
  });
  it('takes the last queens inseminated before a day', () => {
    const queens = [0, 3, 1, 2].map((days) => clocked({ queen: `q${days}`, inseminated: addDays(on, days) }));
    expect(lastInseminated(queens, addDays(on, 3), 2).map(({ queen }) => queen)).toEqual(['q2', 'q1']);
  });
});

it('rows of outcomes read back as they were', () => {
  const outcomes = [
    {
      ...outcome({ queen: '27-001', laying: true, layingOn: addDays(on, 21), factors: { tip: '3', dose: '8' } }),
      brood: 'worker',
    },
    { ...outcome({ queen: '27-002', laying: false, lostOn: addDays(on, 2), fate: 'lost' }), brood: 'none' },
  ];
  const rows = outcomeRows(outcomes).map((texts, n) => ({ number: n + 2, texts }));
  const read = readOutcomes({ columns: OUTCOME_COLUMNS, rows, decimalComma: false });
  expect(read.problems).toEqual([]);
  read.outcomes.forEach((back, n) => {
    const { brood: _, factors, ...rest } = outcomes[n] as (typeof outcomes)[number];
    expect(back).toMatchObject(rest);
    expect(back.factors).toMatchObject(factors);
  });
});
