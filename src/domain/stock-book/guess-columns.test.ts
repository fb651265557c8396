import { describe, expect, test } from 'vitest';
import { day } from '#units/calendar-day.ts';
import { guessColumns, guessHeader } from './guess-columns.ts';
import { readMatingWords } from './mating-words.ts';
import { codeHabit, repairedCode, spoiled } from './repair-code.ts';
import type { Cell, TableRow } from './table.ts';

const today = day('2027-05-01');
const rows = (...cells: Cell[][]): TableRow[] => cells.map((row, i) => ({ number: i + 2, cells: row }));
const guess = (headings: string[], ...cells: Cell[][]) =>
  guessColumns(headings, rows(...cells), today).map(({ meaning }) => meaning);

describe('what columns mean', () => {
  test('by their headings, in six languages', () => {
    expect(
      guess(
        ['Queen', 'Mother', 'Emerged', 'Mated to', 'Colour', 'Disc', 'Yard', 'Remarks'],
        ['26-1', '24-1', '1.6.2026', 'M', 'white', '4', 'Mill', 'calm'],
      ),
    ).toEqual(['code', 'dam', 'emerged', 'drones', 'colour', 'disc', 'yard', 'note']);
    expect(
      guess(
        ['Königin', 'Mutter', 'Schlupf', 'Vatervolk', 'Farbe', 'Linie', 'Volk'],
        ['26-1', '24-1', '1.6.2026', 'M', 'weiß', 'A', '12'],
      ),
    ).toEqual(['code', 'dam', 'emerged', 'drones', 'colour', 'line', 'hive']);
    expect(guess(['Reine', 'Mère', 'Née le', 'Lignée'], ['26-1', '24-1', '1/6/2026', 'A'])).toEqual([
      'code',
      'dam',
      'emerged',
      'line',
    ]);
    expect(guess(['Reina', 'Madre', 'Nacimiento'], ['26-1', '24-1', '1/6/2026'])).toEqual(['code', 'dam', 'emerged']);
    expect(guess(['Regina', 'Madre', 'Nascita'], ['26-1', '24-1', '1/6/2026'])).toEqual(['code', 'dam', 'emerged']);
    expect(guess(['Matka', 'Matka reprodukcyjna', 'Data wygryzienia'], ['26-1', '24-1', '1.6.2026'])).toEqual([
      'code',
      'dam',
      'emerged',
    ]);
  });

  test('by what they hold where the heading is silent; the rest is kept as a note', () => {
    expect(guess(['', 'x', 'y'], ['26-1', 'rot', 'so so'], ['26-2', 'blau', 'fine'], ['26-3', 'rot', 'good'])).toEqual([
      'code',
      'colour',
      'note',
    ]);
    expect(guess(['Queen', 'empty'], ['26-1', ''])).toEqual(['code', 'nothing']);
  });

  test('"drones" may be their number', () => {
    expect(
      guess(
        ['queen', 'dam', 'born', 'mated_to', 'drones', 'semen', 'sisters'],
        ['A', '', '2026-06-01', 'M', '8', '', ''],
        ['B', 'A', '', '', '10', 'C1', '3'],
      ),
    ).toEqual(['code', 'dam', 'emerged', 'drones', 'drone-count', 'semen', 'sisters']);
  });

  test('the header is the row with most known headings; a title may stand above it', () => {
    expect(guessHeader(rows(['My queens 2026'], ['Queen', 'Mother', 'Born'], ['26-1', '24-1', '1.6.26']))).toBe(1);
    expect(guessHeader(rows(['a', 'b'], ['1', '2']))).toBe(0);
  });
});

describe('drones in words', () => {
  const read = (text: string) => readMatingWords(text, { isCode: (code) => code === 'A & B', decimalComma: true });
  const parts = (text: string) => {
    const mating = read(text);
    return 'parts' in mating
      ? [mating.oneOf, ...mating.parts.map(({ code, share }) => `${code} ${Number(share.toFixed(3))}`)]
      : mating;
  };
  test('are mixtures, alternatives, codes with odd signs, or open', () => {
    expect(parts('M-03')).toEqual([false, 'M-03 1']);
    expect(parts('M 60 %, N 40 %')).toEqual([false, 'M 0.6', 'N 0.4']);
    expect(parts('M:0.6;N:0.4')).toEqual([false, 'M 0.6', 'N 0.4']);
    expect(parts('M + N und O')).toEqual([false, 'M 0.333', 'N 0.333', 'O 0.333']);
    expect(parts('R-07 or R-09, rather R-07')).toEqual([true, 'R-07 0.7', 'R-09 0.3']);
    expect(parts('R-07 oder R-09')).toEqual([true, 'R-07 0.5', 'R-09 0.5']);
    expect(parts('A & B')).toEqual([false, 'A & B 1']);
    expect(read('Standbegattung')).toEqual({ is: 'open' });
    expect(read('M:0.9;N:0.9')).toMatchObject({ code: 'shares-not-one' });
  });
});

describe('codes a spreadsheet turned into something else', () => {
  test('are known again and proposed in the habit of the others', () => {
    const habit = codeHabit(['7-11', '12-4', '3-17', { day: day('2026-05-03') }]);
    expect(habit).toEqual({ sign: '-', padded: false });
    const mended = (cell: Cell, first: 'day-month' | 'month-day') => {
      const damage = spoiled(cell);
      return damage === null ? null : repairedCode(damage, habit, first);
    };
    expect(mended({ day: day('2026-05-03') }, 'day-month')).toBe('3-5');
    expect(mended({ day: day('2026-05-03') }, 'month-day')).toBe('5-3');
    expect(mended('03. Mai', 'day-month')).toBe('3-5');
    expect(mended('May-03', 'day-month')).toBe('3-5');
    expect(mended('1.20E+04', 'day-month')).toBe('12E3');
    expect(mended('26-014', 'day-month')).toBeNull();
    expect(mended('M-03', 'day-month')).toBeNull();
  });
  test('padded figures stay padded', () => {
    expect(repairedCode({ is: 'day', date: 3, month: 5 }, codeHabit(['01/07', '11/04']), 'day-month')).toBe('03/05');
  });
});
