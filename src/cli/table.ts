import type { Cell, Table } from './command.ts';
import { printable } from './wrong-input.ts';

const NUMBERS = new Intl.NumberFormat('en-GB', { maximumSignificantDigits: 6, useGrouping: false });

const written = (cell: Cell): string => {
  if (cell === null) return '–';
  return typeof cell === 'number' ? NUMBERS.format(cell) : printable(cell);
};

/** A table as lines of text, numbers to the right. */
export function tableText({ title, columns, rows }: Table): string {
  const cells = rows.map((row) => row.map(written));
  const widths = columns.map((column, i) =>
    cells.reduce((widest, row) => Math.max(widest, row[i]?.length ?? 0), column.length),
  );
  const isNumber = columns.map((_, i) => rows.some((row) => typeof row[i] === 'number'));
  const lay = (row: readonly string[]) =>
    row
      .map((cell, i) => (isNumber[i] ? cell.padStart(widths[i] ?? 0) : cell.padEnd(widths[i] ?? 0)))
      .join('  ')
      .trimEnd();
  const lines = [lay(columns), widths.map((width) => '─'.repeat(width)).join('  '), ...cells.map(lay)];
  return [...(title === undefined ? [] : [title]), ...lines].join('\n');
}
