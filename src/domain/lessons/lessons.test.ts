import { describe, expect, it } from 'vitest';
import { day } from '#units/calendar-day.ts';
import { onsetOf, survivalOf } from './curve.ts';
import { groupsOf } from './groups.ts';
import { lessonsOf } from './lessons.ts';
import type { Outcome } from './outcome.ts';
import { readOutcomes } from './read-outcomes.ts';
import { runLineFor, runOf } from './runs.ts';
import { tallyOf } from './tally.ts';

const outcome = (more: Partial<Outcome> = {}): Outcome => ({
  queen: 'Q',
  inseminated: day('2027-06-12'),
  laying: null,
  layingOn: null,
  checkedOn: null,
  lostOn: null,
  fate: null,
  factors: {},
  ...more,
});
const laid = (tip: string) => outcome({ laying: true, checkedOn: day('2027-06-26'), factors: { tip } });
const failed = (tip: string) => outcome({ laying: false, checkedOn: day('2027-06-26'), factors: { tip } });
const times = <T>(n: number, make: () => T): T[] => Array.from({ length: n }, make);

describe('counts with both denominators', () => {
  const lostEarly = outcome({ lostOn: day('2027-06-15'), fate: 'lost' });
  const notYet = outcome();
  const sold = outcome({ lostOn: day('2027-06-20'), fate: 'sold' });
  const rows = [...times(7, () => laid('3')), ...times(2, () => failed('3')), lostEarly, notYet, sold];

  it('7 of 9 known, 7 of 10 inseminated, 7 of 9 alive at their first check, 2 open', () => {
    const tally = tallyOf(rows);
    expect(tally.known).toMatchObject({ laying: 7, of: 9, rate: 7 / 9 });
    expect(tally.ofInseminated).toMatchObject({ laying: 7, of: 10 });
    expect(tally.ofAliveAtFirstCheck).toMatchObject({ laying: 7, of: 9 });
    expect(tally.open).toBe(2);
  });

  it('a queen found dead at her check was inseminated, but not alive at it', () => {
    const dead = outcome({ laying: false, checkedOn: day('2027-06-19'), lostOn: day('2027-06-19'), fate: 'lost' });
    const tally = tallyOf([laid('3'), dead]);
    expect(tally.ofInseminated.of).toBe(2);
    expect(tally.ofAliveAtFirstCheck.of).toBe(1);
  });

  it('nothing known gives no rate', () => {
    expect(tallyOf([notYet]).known).toEqual({ laying: 0, of: 0, rate: null, low: null, high: null });
  });
});

describe('groups of a factor', () => {
  const rows = [
    ...times(7, () => laid('3')),
    ...times(2, () => failed('3')),
    ...times(41, () => laid('10')),
    ...times(11, () => failed('10')),
    laid(''),
  ];

  it('stand by number, what was not written down last', () => {
    expect(groupsOf(rows, 'tip').map(({ group }) => group)).toEqual(['3', '10', null]);
  });

  it('"tip 3: 7 of 9, all other tips: 42 of 53" could easily be luck', () => {
    const [three] = groupsOf(rows, 'tip');
    expect(three?.tally.known).toMatchObject({ laying: 7, of: 9 });
    expect(three?.chanceAlone).toBeGreaterThan(0.5);
    expect(three?.shrunken).toBeGreaterThan(7 / 9);
  });

  it('ten failures of ten beside forty of forty could not', () => {
    const [bad] = groupsOf([...times(10, () => failed('1')), ...times(40, () => laid('2'))], 'tip');
    expect(bad?.chanceAlone).toBeLessThan(1e-6);
  });

  it('a factor nobody wrote down is one group without a name', () => {
    expect(groupsOf(rows, 'moon').map(({ group }) => group)).toEqual([null]);
  });
});

describe('curves', () => {
  it('count losses from insemination, and watch sold, given and sampled queens until they left', () => {
    const rows = [
      outcome({ lostOn: day('2027-07-12'), fate: 'superseded' }),
      outcome({ lostOn: day('2027-06-22'), fate: 'sold' }),
      outcome({ lostOn: day('2027-06-14'), fate: 'sampled' }),
      outcome({ checkedOn: day('2027-07-22') }),
      outcome({ lostOn: day('2027-07-22') }),
      outcome({ inseminated: null, lostOn: day('2027-06-20') }),
      outcome(),
    ];
    expect(survivalOf(rows).map(({ day, atRisk, alive }) => [day, atRisk, alive])).toEqual([
      [30, 3, expect.closeTo(2 / 3, 12)],
      [40, 2, expect.closeTo(1 / 3, 12)],
    ]);
  });

  it('count the onset of laying the same way', () => {
    const rows = [outcome({ layingOn: day('2027-06-19') }), outcome({ checkedOn: day('2027-06-26') })];
    expect(onsetOf(rows)).toMatchObject([{ day: 7, atRisk: 2, alive: 0.5, laying: 0.5 }]);
  });
});

describe('run lines', () => {
  it('signal at 12 with steps of 4: a false alarm in 300 queens at most', () => {
    expect(runLineFor({ acceptable: 0.1, bad: 0.3 })).toEqual({ failure: 4, signal: 12 });
  });

  it('go by the day of insemination, pass over what is not known, and name the queen that raised the signal', () => {
    const on = (date: string, laying: boolean | null, queen: string) =>
      outcome({ queen, inseminated: day(date), laying });
    const rows = [
      on('2027-06-14', false, 'C'),
      on('2027-06-12', false, 'A'),
      on('2027-06-13', null, 'X'),
      on('2027-06-13', false, 'B'),
    ];
    const run = runOf(rows, { failure: 4, signal: 12 });
    expect(run.signalAt).toBe(3);
    expect(run.points.map(({ queen }) => queen)).toEqual(['A', 'B', 'C']);
    expect(
      runOf(
        times(20, () => laid('1')),
        { failure: 4, signal: 12 },
      ).signalAt,
    ).toBeNull();
  });
});

describe('a table of outcomes', () => {
  const table = (header: string, ...lines: string[]) =>
    readOutcomes({
      columns: header.split(','),
      rows: lines.map((line, i) => ({ number: i + 2, texts: line.split(',') })),
      decimalComma: false,
    });

  it('needs no more than the queens, in any order of columns', () => {
    expect(table('queen', 'A', 'B').outcomes.map(({ queen }) => queen)).toEqual(['A', 'B']);
    const { outcomes } = table('tip,laying,queen,inseminated', '3,yes,A,2027-06-12');
    expect(outcomes[0]).toMatchObject({ queen: 'A', laying: true, inseminated: '2027-06-12', factors: { tip: '3' } });
  });

  it.each([
    ['queen,laying', 'A,maybe', 'laying not-yes-or-no'],
    ['queen,lost_on', 'A,2027-06-31', 'lost_on not-a-day'],
    ['queen,inseminated', 'A,12.6.2027', 'inseminated not-a-day'],
    ['queen,fate', 'A,vanished', 'fate not-a-fate'],
    ['queen,brood', 'A,spotty', 'brood not-a-brood'],
    ['queen,dose', 'A,-8', 'dose not-an-amount'],
    ['queen,dose', 'A,8 µl', 'dose not-an-amount'],
    ['queen,laying', ',yes', 'queen no-queen-code'],
    ['queen,inseminated,lost_on', 'A,2027-06-12,2027-06-11', 'lost_on before-insemination'],
  ])('%s / %s is refused with its row and column', (header, line, expected) => {
    const { outcomes, problems } = table(header, line);
    expect(outcomes).toEqual([]);
    expect(problems.map(({ row, column, code }) => `${row} ${column} ${code}`)).toEqual([`2 ${expected}`]);
  });

  it('without queens, or without rows, is refused', () => {
    expect(table('name', 'A').problems[0]).toMatchObject({ row: 1, code: 'no-queen-column' });
    expect(table('queen').problems[0]).toMatchObject({ code: 'no-outcomes' });
  });

  it('answers all of the contract, by any column', () => {
    const { outcomes } = table(
      'queen,inseminated,operator,laying,laying_on,checked_on,lost_on',
      'A,2027-06-12,Ada,yes,2027-06-20,2027-06-26,',
      'B,2027-06-12,Ada,no,,2027-06-26,2027-07-01',
      'C,2027-06-13,Ben,yes,2027-06-22,2027-06-26,',
    );
    const lessons = lessonsOf(outcomes, { by: 'operator' });
    expect(lessons.overall).toMatchObject({ laying: 2, known: 3, rate: 2 / 3 });
    expect(lessons.groups.map(({ group, laying, known }) => [group, laying, known])).toEqual([
      ['Ada', 1, 2],
      ['Ben', 1, 1],
    ]);
    expect(lessons.survival).toMatchObject([{ day: 19, atRisk: 1, alive: 0 }]);
    expect(lessons.onset.map(({ day }) => day)).toEqual([8, 9]);
    expect(lessons.runs).toEqual([
      { group: 'Ada', signalAt: null, signals: [] },
      { group: 'Ben', signalAt: null, signals: [] },
    ]);
  });
});
