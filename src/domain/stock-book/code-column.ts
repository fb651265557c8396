import type { Day } from '#units/calendar-day.ts';
import type { Answers } from './choices.ts';
import { headingMeanings } from './guess-columns.ts';
import type { Meaning } from './meaning.ts';
import { yearInCode } from './read-row.ts';
import type { RehearsalQuestion } from './rehearsal.ts';
import { type CodeHabit, codeHabit, repairedCode, spoiled } from './repair-code.ts';
import { type Cell, cellText, type TableRow } from './table.ts';

const MARKS = ['/', '|', '#', ';'] as const;
/** Share of codes that must hold a mark before it is asked about. */
const MERGED_FROM = 0.6;

/** The mark most codes hold with a small number behind it: perhaps two things in one column. */
function mergedBy(codes: readonly string[]): string | null {
  const filled = codes.filter((code) => code !== '');
  return (
    MARKS.find((mark) => {
      const merged = filled.filter((code) => new RegExp(`^.+\\${mark}\\s*\\d{1,3}$`).test(code));
      return filled.length > 0 && merged.length / filled.length >= MERGED_FROM;
    }) ?? null
  );
}

/** Number and year, `12/26`, is one code: what stands behind the mark is mostly a year of the last decades. */
function isYearBehind(codes: readonly string[], by: string, today: Day): boolean {
  const last = Number(today.slice(2, 4)) + 1;
  const merged = codes.filter((code) => code.includes(by));
  const years = merged.filter((code) => {
    const behind = Number(code.slice(code.lastIndexOf(by) + 1));
    return behind <= last && behind >= last - 15;
  });
  const distinct = new Set(merged.map((code) => code.slice(code.lastIndexOf(by) + 1))).size;
  return years.length / Math.max(1, merged.length) > 0.9 && distinct <= 16;
}

/** What the code column turned out to be, and what has to be asked about it. */
export type CodeColumn = {
  /** The code of each row, in the order of the rows. */
  codes: string[];
  /** What stood behind the mark of each row's code, when it is something else. */
  behind: (string | null)[];
  second: Meaning | null;
  questions: RehearsalQuestion[];
};

function repairOf(cells: readonly Cell[], habit: CodeHabit, answer: Answers['codeDays']) {
  const damaged = cells.flatMap((cell, i) => {
    const damage = spoiled(cell);
    return damage === null ? [] : [{ i, cell, damage }];
  });
  const [first] = damaged;
  const question: RehearsalQuestion[] =
    first === undefined
      ? []
      : [
          {
            id: 'code-days',
            needed: answer === undefined,
            rows: damaged.length,
            example: cellText(first.cell),
            dayMonth: repairedCode(first.damage, habit, 'day-month'),
            monthDay: repairedCode(first.damage, habit, 'month-day'),
          },
        ];
  const mended = new Map(
    answer === undefined || answer === 'keep'
      ? []
      : damaged.map(({ i, damage }) => [i, repairedCode(damage, habit, answer)] as const),
  );
  return { mended, question };
}

/** Reads the code column: mends what a spreadsheet turned into days and powers, and parts what is merged, each only with the person's yes. */
export function readCodeColumn(
  rows: readonly TableRow[],
  column: number,
  options: { answers: Answers; split: { by: string; second: Meaning } | null; today: Day },
): CodeColumn {
  const { answers, split, today } = options;
  const cells = rows.map(({ cells: row }) => row[column] ?? '');
  const { mended, question } = repairOf(cells, codeHabit(cells), answers.codeDays);
  const whole = cells.map((cell, i) => mended.get(i) ?? cellText(cell).trim());
  const by = split?.by ?? mergedBy(whole);
  const asked = by !== null && split === null && !isYearBehind(whole, by, today);
  const second = split?.second ?? (asked && answers.codeSplit !== 'whole' ? (answers.codeSplit ?? null) : null);
  const parts = whole.map((code) => {
    const at = by === null || second === null ? -1 : code.lastIndexOf(by);
    return at < 1 ? { code, behind: null } : { code: code.slice(0, at).trim(), behind: code.slice(at + 1).trim() };
  });
  const questions: RehearsalQuestion[] = asked
    ? [
        {
          id: 'code-split',
          needed: answers.codeSplit === undefined,
          by,
          rows: whole.filter((code) => code.includes(by)).length,
          example: whole.find((code) => code.includes(by)) ?? '',
        },
      ]
    : [];
  return {
    codes: parts.map(({ code }) => code),
    behind: parts.map(({ behind }) => behind),
    second: second === 'nothing' ? null : second,
    questions: [...question, ...questions],
  };
}

/** Whether it must be asked what the codes name: some stand twice with other years, look like stand numbers, or are headed as hives. */
export function namesMatter(
  heading: string,
  codes: readonly string[],
  years: readonly (number | null)[],
  today: Day,
): { matters: boolean; twice: number } {
  const seen = new Map<string, Set<number>>();
  for (const [i, code] of codes.entries()) {
    const year = years[i] ?? null;
    if (code !== '' && year !== null) seen.set(code, (seen.get(code) ?? new Set()).add(year));
  }
  const twice = [...seen.values()].filter((of) => of.size > 1).length;
  const filled = codes.filter((code) => code !== '');
  const standNumbers = filled.filter((code) => /^\d{1,3}[a-z]?$/i.test(code) && yearInCode(code, today) === null);
  const headedAsHive = headingMeanings(heading).some(({ meaning }) => meaning === 'hive');
  return { matters: twice > 0 || headedAsHive || standNumbers.length > 0.7 * filled.length, twice };
}
