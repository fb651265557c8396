import type { Day } from '#units/calendar-day.ts';

/** What a cell of a breeder's own table holds: text as it is written, a number or a calendar day a spreadsheet keeps as such. */
export type Cell = string | number | { day: Day };

/** A row that holds anything; `number` as the person's own program counts it, from 1. */
export type TableRow = { number: number; cells: readonly Cell[] };

/** How a file was read, said so that a wrong guess can be corrected. */
export type ReadAs = {
  form: 'text' | 'workbook';
  /** Of a text: a label of the WHATWG Encoding Standard. */
  encoding: string | null;
  separator: string | null;
  /** Whether `2,5` means two and a half. */
  decimalComma: boolean;
  /** Sheets of a workbook, in order. */
  sheets: readonly string[];
  sheet: string | null;
};

/** A breeder's own table, with nothing understood yet. */
export type RawTable = { readAs: ReadAs; rows: readonly TableRow[] };

/** Why a file cannot be read as a table, or what in it must be looked at. */
export type TableProblem = {
  code:
    | 'table-empty'
    | 'table-too-large'
    | 'too-many-rows'
    | 'too-many-columns'
    | 'cell-too-long'
    | 'encoding-mixed'
    | 'encoding-unknown'
    | 'not-a-table'
    | 'old-workbook'
    | 'workbook-broken'
    | 'workbook-unsafe'
    | 'workbook-locked'
    | 'no-such-sheet'
    | 'open-quote';
  row: number | null;
  values: Readonly<Record<string, string | number>>;
};

/** What one table may hold at most. */
export const tableLimits = { rows: 1_000_000, columns: 500, cellLetters: 32_768, bytes: 200_000_000 } as const;

/** The text of a cell as a person reads it. */
export function cellText(cell: Cell | undefined): string {
  if (cell === undefined) return '';
  if (typeof cell === 'object') return cell.day;
  return typeof cell === 'number' ? String(cell) : cell;
}
