import { type CsvProblem, openCsv, readRows } from '#numeric/csv/csv.ts';
import { parseDecimal } from '#numeric/csv/parse-decimal.ts';
import { type Problem, refuse } from '#units/problem.ts';

/** A table of the published columns (contracts.md, Files): header names, and rows of as many texts. */
export type PlainTable = {
  columns: readonly string[];
  rows: readonly { number: number; texts: readonly string[] }[];
  decimalComma: boolean;
};

const formProblem = ({ code, row, column, found, expected }: CsvProblem): Problem =>
  refuse(`rows.${row}.${column ?? ''}`, `form-${code}`, { row, column: column ?? '', found, expected });

/** Reads a plain table; or what is wrong with its form, row by row. `needed` columns must be in the header. */
export function readPlainTable(bytes: Uint8Array, needed: readonly string[]): PlainTable | { problems: Problem[] } {
  const csv = openCsv(bytes);
  if ('code' in csv) return { problems: [formProblem(csv)] };
  const missing = needed.filter((name) => !csv.columns.includes(name));
  const without = missing.map((column) =>
    refuse(`rows.${csv.headerRow}.${column}`, 'form-column-missing', {
      row: csv.headerRow,
      column,
      found: csv.columns.join(', '),
    }),
  );
  const { rows, problems } = readRows(csv);
  if (without.length + problems.length > 0) return { problems: [...without, ...problems.map(formProblem)] };
  if (rows.length === 0)
    return {
      problems: [refuse(`rows.${csv.headerRow}.`, 'table-empty', { row: csv.headerRow, column: '', found: '' })],
    };
  return { columns: csv.columns, rows, decimalComma: csv.decimalComma };
}

/** One row under the reader's eye: its texts by column, its numbers, and a way to say what is wrong. */
export type PlainRow = {
  number: number;
  text(column: string): string;
  /** `null` when empty; NaN (and said) when it is no number. */
  amount(column: string): number | null;
  say(column: string, code: string, values?: Problem['values']): void;
};

/** Reads each row with `read`; problems are gathered beside what was read. */
export function eachPlainRow<T>(table: PlainTable, read: (row: PlainRow) => T): { read: T[]; problems: Problem[] } {
  const problems: Problem[] = [];
  const at = new Map(table.columns.map((name, i) => [name, i]));
  const found = table.rows.map(({ number, texts }) => {
    const text = (column: string) => texts[at.get(column) ?? -1] ?? '';
    const say = (column: string, code: string, values: Problem['values'] = {}) =>
      void problems.push(
        refuse(`rows.${number}.${column}`, code, { ...values, row: number, column, found: text(column) }),
      );
    const amount = (column: string) => {
      if (text(column) === '') return null;
      const value = parseDecimal(text(column), table.decimalComma);
      if (value === null) say(column, 'row-not-a-number');
      return value ?? Number.NaN;
    };
    return read({ number, text, amount, say });
  });
  return { read: found, problems };
}
