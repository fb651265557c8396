import { describe, expect, test } from 'vitest';
import { readTable } from '#documents/read-table/read-table.ts';
import { day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { messySheet } from '../../../tests/support/messy-sheet.ts';
import type { ImportChoices } from './choices.ts';
import type { BookFacts } from './plan.ts';
import { rehearse } from './rehearse.ts';
import type { Cell, RawTable } from './table.ts';

const today = day('2027-02-01');
const empty: BookFacts = { queens: [], formerCodes: [] };

function table(text: string, form: 'text' | 'workbook' = 'text'): RawTable {
  const rows = text
    .split('\n')
    .map((line, i) => ({ number: i + 1, cells: line.split(';').map((cell) => cell.trim()) as Cell[] }))
    .filter(({ cells }) => cells.some((cell) => cell !== ''));
  return { readAs: { form, encoding: 'utf-8', separator: ';', decimalComma: true, sheets: [], sheet: null }, rows };
}
type Given = { answers?: ImportChoices['answers']; choices?: ImportChoices; book?: BookFacts; strict?: boolean };
const run = (text: string, { answers, choices = {}, book = empty, strict = false }: Given = {}) =>
  rehearse(table(text), {
    choices: { ...choices, ...(answers === undefined ? {} : { answers }) },
    book,
    today,
    strict,
  });
const problemsOf = (text: string, given: Given = {}) =>
  run(text, given).rehearsal.problems.map(({ row, code, weight }) => [row, code, weight]);
const asked = (text: string, given: Given = {}) =>
  run(text, given).rehearsal.questions.map(({ id, needed }) => [id, needed]);
const planned = (text: string, code: string, given: Given = {}) =>
  run(text, given).plan.queens.find((queen) => queen.code === code);

describe('the two questions that are always asked when they matter', () => {
  const sheet = 'Queen;Mother;Born;Mated to\n12;;1.6.2024;M\n12;;1.6.2026;M\n13;12;2.6.2026;N';

  test('does the code name the queen or the hive: asked where codes stand twice or look like stand numbers (odd record 12)', () => {
    expect(asked(sheet)).toContainEqual(['code-names', true]);
    expect(problemsOf(sheet)).toContainEqual([3, 'row-code-twice', 'must']);
    expect(asked('Queen;Born\n26-001;1.6.2026\n26-002;1.6.2026')).toEqual([['seen-on', false]]);
  });

  test('hives since a year: older rows keep their code, later queens are called by hive and year, and stand there', () => {
    const answers = { codeNames: { queenUntil: 2024 }, dronesName: 'drone-mother' } as const;
    const { plan, rehearsal } = run(sheet, { answers });
    expect(
      plan.queens.filter(({ made }) => !made).map(({ code, draft }) => [code, draft?.hive, draft?.writtenCode]),
    ).toEqual([
      ['12', null, null],
      ['12/26', '12', '12'],
      ['13/26', '13', '13'],
    ]);
    expect(rehearsal.problems.filter(({ weight }) => weight === 'must')).toEqual([]);
    // "12" as a dam is the queen in hive 12 who can be older than her.
    expect(planned(sheet, '13/26', { answers })?.dam).toEqual({ planned: 'row 3' });
  });

  test('does the drone column name the drone mother, her mother, a line, or a place', () => {
    const text = 'Queen;Born;Mated to\nS-44;1.6.2024;\n26-001;1.6.2026;S-44';
    expect(asked(text)).toContainEqual(['drones-name', true]);
    const mating = (dronesName: 'drone-mother' | 'her-mother' | 'line' | 'place') =>
      planned(text, '26-001', { answers: { dronesName } })?.mating;
    expect(mating('drone-mother')).toMatchObject({
      how: 'inseminated',
      parts: [{ of: { planned: 'row 2' }, share: 1 }],
    });
    expect(mating('her-mother')).toMatchObject({ how: 'inseminated', parts: [{ of: { group: 'daughters:S-44' } }] });
    expect(run(text, { answers: { dronesName: 'her-mother', sistersEach: 12 } }).plan.groups).toMatchObject([
      { size: 12, dam: { planned: 'row 2' } },
    ]);
    expect(mating('line')).toMatchObject({ how: 'inseminated', parts: [{ of: { line: 'S-44' } }] });
    expect(mating('place')).toEqual({ how: 'place', place: 'S-44', year: 2026 });
  });
});

describe('days', () => {
  test('that no figure decides are asked about, with how many; proven ones are not', () => {
    expect(run('Queen;Born\nA1;3/5/2026\nA2;4/6/2026').rehearsal.questions[0]).toMatchObject({
      id: 'day-order',
      needed: true,
      proof: { either: 2 },
    });
    const emergedOf = (text: string, given: Given = {}) => planned(text, 'A1', given)?.draft?.emerged?.day;
    expect(emergedOf('Queen;Born\nA1;3/5/2026', { answers: { dayOrder: 'day-first' } })).toBe('2026-05-03');
    expect(emergedOf('Queen;Born\nA1;3/5/2026', { answers: { dayOrder: 'month-first' } })).toBe('2026-03-05');
    expect(emergedOf('Queen;Born\nA1;3/5/2026\nA2;17/5/2026')).toBe('2026-05-03');
    expect(emergedOf('Queen;Born\nA1;3/5/2026\nA2;5/17/2026')).toBe('2026-03-05');
  });
  test('figures that contradict each other are asked about as well', () => {
    expect(asked('Queen;Born\nA1;17/5/2026\nA2;5/17/2026')).toContainEqual(['day-order', true]);
  });
  test('31 June, a day ahead, an insemination before she emerged, words: each is named', () => {
    const text =
      'Queen;Born;Inseminated\nA1;31.6.2026;\nA2;1.6.2029;\nA3;10.6.2026;1.6.2026\nA4;soon;\nA5;10.6.26;20.6.';
    expect(problemsOf(text).filter(([, , weight]) => weight === 'must')).toEqual([
      [2, 'row-impossible-day', 'must'],
      [3, 'row-day-ahead', 'must'],
      [4, 'row-before-emergence', 'must'],
      [5, 'row-unreadable-day', 'must'],
    ]);
    expect(planned(text, 'A5')?.draft?.inseminated).toBe('2026-06-20');
  });
});

describe('codes a spreadsheet spoiled, and codes with something behind them', () => {
  test('are mended with the person’s yes only', () => {
    const text = 'Queen;Mother\n7-11;\n03. Mai;7-11\n1.20E+04;7-11';
    expect(run(text).rehearsal.questions[0]).toMatchObject({
      id: 'code-days',
      needed: true,
      rows: 2,
      dayMonth: '3-5',
      monthDay: '5-3',
    });
    const codes = (codeDays: 'day-month' | 'month-day' | 'keep') =>
      run(text, { answers: { codeDays } }).plan.queens.map(({ code }) => code);
    expect(codes('day-month')).toEqual(['7-11', '3-5', '12E3']);
    expect(codes('month-day')).toEqual(['7-11', '5-3', '12E3']);
    expect(codes('keep')).toEqual(['7-11', '03. Mai', '1.20E+04']);
  });
  test('26-014/3 is parted when the person says so; number/year never asks', () => {
    const text = 'Queen;Born\n26-014/3;1.6.2026\n26-015/4;1.6.2026\n26-016/17;1.6.2026';
    expect(asked(text)[0]).toEqual(['code-split', true]);
    expect(planned(text, '26-014', { answers: { codeSplit: 'disc' } })?.draft?.disc).toBe(3);
    expect(planned(text, '26-014', { answers: { codeSplit: 'note' } })?.draft?.notes).toEqual(['3']);
    expect(planned(text, '26-014/3', { answers: { codeSplit: 'whole' } })?.draft?.disc).toBeNull();
    expect(asked('Queen;Born\n14/26;1.6.2026\n15/26;1.6.2026\n3/25;1.6.2025').map(([id]) => id)).not.toContain(
      'code-split',
    );
  });
});

describe('rows that do not fit', () => {
  test('a code twice, a row without code; past bearers may have borne it (odd record 11)', () => {
    expect(problemsOf('Queen;Born\n26-1;1.6.2026\n26-1;2.6.2026\n;3.6.2026')).toEqual([
      [3, 'row-code-twice', 'must'],
      [4, 'row-without-code', 'must'],
    ]);
    expect(problemsOf('Queen;Born;State\nb14;1.6.2020;dead\nb14;1.6.2025;')).toEqual([]);
  });
  test('a mother without a row is made, or left, as the person says; near codes are offered', () => {
    const text = 'Queen;Mother\n24-013;\n26-001;24-031\n26-002;24 013';
    const [problem] = run(text).rehearsal.problems;
    expect(problem).toMatchObject({ row: 3, code: 'row-dam-unknown', weight: 'choice', suggestions: ['24-013'] });
    expect(planned(text, '24-031')).toMatchObject({ made: true });
    expect(planned(text, '26-001', { answers: { unknownMothers: 'leave' } })).toMatchObject({
      dam: null,
      draft: { notes: ['♀ 24-031'] },
    });
    // Dashes and spaces do not matter, and it is said.
    expect(planned(text, '26-002')?.dam).toEqual({ planned: 'row 2' });
    expect(problemsOf(text)).toContainEqual([4, 'row-dam-read-as', 'said']);
    expect(problemsOf(text, { strict: true })).toContainEqual([3, 'row-dam-unknown', 'must']);
  });
  test('a daughter older than her mother, unless the day is only about right; accepted as it is on wish', () => {
    const text = 'Queen;Mother;Born\nA;;10.6.2026\nB;A;5.6.2026\nC;A;ca. 8.6.2026\nD;A;2025';
    expect(problemsOf(text)).toEqual([
      [3, 'row-older-than-dam', 'must'],
      [5, 'row-older-than-dam', 'must'],
    ]);
    const kept = problemsOf(text, { choices: { fixes: { 3: { accept: ['row-older-than-dam'] } } } });
    expect(kept).toContainEqual([3, 'row-older-than-dam', 'said']);
  });
  test('a loop through mothers, or through semen; her own drones are none', () => {
    expect(problemsOf('Queen;Mother\nA;B\nB;C\nC;A')).toHaveLength(1);
    expect(run('Queen;Mother\nA;B\nB;C\nC;A').rehearsal.problems[0]).toMatchObject({
      code: 'row-loop',
      weight: 'must',
    });
    const semen = run('Queen;Mother;Mated to\nA;;D\nD;A;', { answers: { dronesName: 'drone-mother' } });
    expect(semen.rehearsal.problems.map(({ code }) => code)).toEqual(['row-loop']);
    expect(problemsOf('Queen;Mated to\nA1;A1', { answers: { dronesName: 'drone-mother' } })).toEqual([]);
    expect(problemsOf('Queen;Mother\nA1;A1').map(([, code]) => code)).toContain('row-loop');
  });
  test('colours, states, wings, numbers, matings nobody can read', () => {
    const text = 'Queen;Born;Colour;State;Wing;Dose;Mated to\nA1;2027-01-05;mauve;on loan;up;1,234;M:0.9;N:0.9'.replace(
      'M:0.9;N:0.9',
      'M:0.2|',
    );
    expect(
      problemsOf(text, { answers: { dronesName: 'drone-mother' } })
        .map(([, code]) => code)
        .sort(),
    ).toEqual([
      'row-mating-unreadable',
      'row-not-a-number',
      'row-unknown-clip',
      'row-unknown-colour',
      'row-unknown-fate',
    ]);
    expect(problemsOf('Queen;Born;Colour\nA1;1.6.2026;red 14')).toEqual([[2, 'row-colour-not-of-year', 'said']]);
    expect(planned('Queen;Born;Colour\nA1;1.6.2026;weiß 14', 'A1')?.draft).toMatchObject({ colour: 'white', disc: 14 });
  });
  test('rows longer than the header stop; short ones are only short; titles and repeated headers are no queens', () => {
    const text = 'Queen;Mother;Note\nA1;;x;y\nA2\nA3;A1\nBirch queens\nQueen;Mother;Note\nA4;A1;z';
    expect(problemsOf(text)).toEqual([
      [2, 'row-too-long', 'must'],
      [5, 'row-title', 'said'],
    ]);
    const { rehearsal, plan } = run(text);
    expect([plan.queens.map(({ code }) => code), rehearsal.counts.titles]).toEqual([['A1', 'A2', 'A3', 'A4'], 1]);
  });
  test('queens the book holds already are left out, and found as mothers', () => {
    const book: BookFacts = {
      queens: [{ id: 'id1' as RecordId, code: 'A1', year: 2025, emerged: null, gone: false }],
      formerCodes: [{ queen: 'id1' as RecordId, code: 'old' }],
    };
    const text = 'Queen;Mother\nA1;\nA2;A1\nA3;old';
    expect(problemsOf(text, { book })).toEqual([[2, 'row-code-in-book', 'choice']]);
    const { plan, rehearsal } = run(text, { book });
    expect(plan.queens.map(({ dam }) => dam)).toEqual([{ book: 'id1' }, { book: 'id1' }]);
    expect(rehearsal.counts).toMatchObject({ queens: 2, leftOut: 1 });
  });
});

describe('what a person mends', () => {
  test('another text for a cell, kept as a note, left out', () => {
    const text = 'Queen;Mother;Born\nA1;;31.6.2026\nA2;A1;31.6.2026\nA1;;1.6.2026';
    const fixes = { 2: { set: { 2: '30.6.2025' } }, 3: { note: [2] }, 4: { out: true } };
    const { rehearsal, plan } = run(text, { choices: { fixes } });
    expect(rehearsal.problems).toEqual([]);
    expect(rehearsal.ready).toBe(true);
    expect(plan.queens.map(({ code, draft }) => [code, draft?.emerged?.day ?? null, draft?.notes])).toEqual([
      ['A1', '2025-06-30', []],
      ['A2', null, ['Born: 31.6.2026']],
    ]);
    expect(rehearsal.counts.leftOut).toBe(1);
  });
  test('another meaning for a column; a guess gives way to it', () => {
    const choices: ImportChoices = {
      columns: { 1: { meaning: 'line', split: null }, 2: { meaning: 'dam', split: null } },
    };
    expect(planned('Queen;Mother;x\nA1;Alder;\nA2;Alder;A1', 'A2', { choices })).toMatchObject({
      dam: { planned: 'row 2' },
      draft: { line: 'Alder' },
    });
  });
  test('the row of the header', () => {
    expect(planned('a;b\nQueen;Mother\nA1;x', 'A1')).toBeDefined();
    expect(run('a1;b\na2;c', { choices: { headerRow: 0 } }).plan.queens).toHaveLength(2);
  });
});

describe('a messy sheet of 200 rows', () => {
  const sheet = messySheet();

  test('is understood but for its four slips', async () => {
    const raw = await readTable(new TextEncoder().encode(sheet.text));
    if ('code' in raw) throw new Error(raw.code);
    const answers = { codeSplit: 'disc', dronesName: 'drone-mother' } as const;
    const { rehearsal } = rehearse(raw, { choices: { answers }, book: empty, today });
    const { slips } = sheet;
    expect(rehearsal.columns.map(({ meaning }) => meaning)).toEqual([
      'code',
      'dam',
      'emerged',
      'drones',
      'dose',
      'inseminated',
      'line',
      'yard',
      'hive',
      'fate',
      'note',
    ]);
    expect(rehearsal.counts).toMatchObject({ rows: 200, queens: 200, made: 1, lines: 2, yards: 3 });
    const held = rehearsal.problems.filter(({ weight }) => weight === 'must').map(({ row, code }) => [row, code]);
    expect(held).toEqual([
      [slips.impossibleDay, 'row-impossible-day'],
      [slips.codeTwice, 'row-code-twice'],
      [slips.olderThanMother, 'row-older-than-dam'],
    ]);
    expect(rehearsal.problems.find(({ weight }) => weight === 'choice')).toMatchObject({
      row: slips.unknownMother,
      code: 'row-dam-unknown',
      suggestions: ['24-005'],
    });
  });
});
