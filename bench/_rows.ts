/** Rows of the engine's bench as they come, and what is said beside them. */
import { median, type Row } from './_measure.ts';

export const quick = process.argv.includes('--quick');
/** Queens of the largest stock. */
export const big = quick ? 100_000 : 1_000_000;
export const rows: Row[] = [];
export const notes: string[] = [];

export function say(text: string): void {
  notes.push(text);
  console.log(text);
}

export function add(row: Row): void {
  rows.push(row);
  console.log(
    `${row.measure}: ${row.ours}; ${row.reference}; ratio ${row.ratio?.toPrecision(3) ?? '–'} (must ${row.must}, aim ${row.aim})`,
  );
}

export const thousands = (n: number): string => n.toLocaleString('en');

/** Median of the first number of each line a reference printed. */
export const firstOf = (lines: number[][] | null): number | null =>
  lines === null ? null : median(lines.map((line) => line[0] ?? Number.NaN));

export function fail(): never {
  throw new Error('the simulated stock does not stand');
}
