import { type Day, parseDay } from '#units/calendar-day.ts';
import { BROODS, FATES, type Fate, type Outcome } from './outcome.ts';

/** A table as the CSV scanner gives it: trimmed column names, and rows of as many texts with their number in the file. */
export type OutcomeTable = {
  columns: readonly string[];
  rows: readonly { number: number; texts: readonly string[] }[];
  /** `2,5` is a number in this table. */
  decimalComma: boolean;
};

export type OutcomeProblemCode =
  | 'no-queen-column'
  | 'no-outcomes'
  | 'no-queen-code'
  | 'not-a-day'
  | 'not-yes-or-no'
  | 'not-a-fate'
  | 'not-a-brood'
  | 'not-an-amount'
  | 'before-insemination';

/** What is wrong in which row and column; `found` as it stands in the file. */
export type OutcomeProblem = { row: number; column: string; code: OutcomeProblemCode; found: string };

const DAYS = ['inseminated', 'laying_on', 'checked_on', 'lost_on', 'bench_day'] as const;
const NUMBERS = ['dose', 'storage_days', 'drone_age', 'queen_age'] as const;
/** Columns that say what became of her; every other column is a factor that may have made the difference. */
const ENDS = new Set<string>(['queen', 'inseminated', 'laying', 'laying_on', 'checked_on', 'lost_on', 'brood', 'fate']);

type Cells = { row: number; text: (column: string) => string; say: (column: string, code: OutcomeProblemCode) => void };

function dayIn(cells: Cells, column: string): Day | null {
  const text = cells.text(column);
  const found = parseDay(text);
  if (text !== '' && found === null) cells.say(column, 'not-a-day');
  return found;
}

function layingIn(cells: Cells): boolean | null {
  const text = cells.text('laying').toLowerCase();
  if (text !== '' && text !== 'yes' && text !== 'no') cells.say('laying', 'not-yes-or-no');
  return text === 'yes' ? true : text === 'no' ? false : null;
}

function fateIn(cells: Cells): Fate | null {
  const text = cells.text('fate').toLowerCase();
  const fate = FATES.find((one) => one === text) ?? null;
  if (text !== '' && fate === null) cells.say('fate', 'not-a-fate');
  return fate;
}

const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;

function checkOthers(cells: Cells, decimalComma: boolean): void {
  const brood = cells.text('brood').toLowerCase();
  if (brood !== '' && !BROODS.some((one) => one === brood)) cells.say('brood', 'not-a-brood');
  for (const column of NUMBERS) {
    const text = cells.text(column);
    const pointed = decimalComma ? text.replace(',', '.') : text;
    if (text !== '' && !(NUMBER.test(pointed) && Number(pointed) >= 0)) cells.say(column, 'not-an-amount');
  }
}

function checkOrder(cells: Cells, outcome: Outcome): void {
  const ends = { laying_on: outcome.layingOn, checked_on: outcome.checkedOn, lost_on: outcome.lostOn };
  for (const [column, on] of Object.entries(ends))
    if (on !== null && outcome.inseminated !== null && on < outcome.inseminated)
      cells.say(column, 'before-insemination');
}

function readRow(cells: Cells, table: OutcomeTable): Outcome {
  if (cells.text('queen') === '') cells.say('queen', 'no-queen-code');
  const [inseminated = null, layingOn = null, checkedOn = null, lostOn = null] = DAYS.map((column) =>
    dayIn(cells, column),
  );
  const outcome: Outcome = {
    queen: cells.text('queen'),
    inseminated,
    laying: layingIn(cells),
    layingOn,
    checkedOn,
    lostOn,
    fate: fateIn(cells),
    factors: Object.fromEntries(
      table.columns.filter((name) => !ENDS.has(name)).map((name) => [name, cells.text(name)]),
    ),
  };
  checkOthers(cells, table.decimalComma);
  checkOrder(cells, outcome);
  return outcome;
}

/**
 * Reads a table of outcomes; only `queen` must be there as a column. Either every row is right and there are outcomes, or there are
 * problems, each with its row and column, and no outcomes.
 */
export function readOutcomes(table: OutcomeTable): { outcomes: Outcome[]; problems: OutcomeProblem[] } {
  if (!table.columns.includes('queen'))
    return {
      outcomes: [],
      problems: [{ row: 1, column: 'queen', code: 'no-queen-column', found: table.columns.join(',') }],
    };
  const problems: OutcomeProblem[] = [];
  const at = new Map(table.columns.map((name, i) => [name, i]));
  const outcomes = table.rows.map(({ number, texts }) => {
    const text = (column: string) => texts[at.get(column) ?? -1]?.trim() ?? '';
    const say = (column: string, code: OutcomeProblemCode) =>
      problems.push({ row: number, column, code, found: text(column) });
    return readRow({ row: number, text, say }, table);
  });
  if (outcomes.length === 0) problems.push({ row: 1, column: 'queen', code: 'no-outcomes', found: '0' });
  return problems.length > 0 ? { outcomes: [], problems } : { outcomes, problems };
}
