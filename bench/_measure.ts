/** Timing and printing shared by the benches. */
import { cpus, loadavg } from 'node:os';

export const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1
    ? (sorted[middle] ?? Number.NaN)
    : ((sorted[middle - 1] ?? 0) + (sorted[middle] ?? 0)) / 2;
};

/** Compare processor times instead of times on the clock: for a machine that does other work meanwhile. */
export const byProcessor = process.argv.includes('--cpu');

const now = (): number => {
  if (!byProcessor) return performance.now();
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};

/** Milliseconds of each of `repeats` runs; the first run, cold, is thrown away when there are more than two. */
export function times(repeats: number, run: () => void): number[] {
  const out: number[] = [];
  for (let k = 0; k < repeats + (repeats > 2 ? 1 : 0); k++) {
    const begin = now();
    run();
    out.push(now() - begin);
  }
  return repeats > 2 ? out.slice(1) : out;
}

/** A row of the table: a ratio with its goals. `held` is null where there is no reference on this machine. */
export type Row = {
  measure: string;
  ours: string;
  reference: string;
  ratio: number | null;
  must: string;
  aim: string;
  held: boolean | null;
  aimed: boolean | null;
};

type Goal = { must: number; aim: number };

/** A ratio of times (or of counts): smaller is better. */
export function ratioRow(
  measure: string,
  given: { ours: number; reference: number | null; referenceName: string; unit?: string } & Goal,
): Row {
  const { ours, reference, referenceName, must, aim, unit = 'ms' } = given;
  const ratio = reference === null ? null : ours / reference;
  const show = (value: number) => (value >= 100 ? value.toFixed(0) : value.toPrecision(3));
  return {
    measure,
    ours: `${show(ours)} ${unit}`,
    reference: reference === null ? `${referenceName}: not here` : `${referenceName} ${show(reference)} ${unit}`,
    ratio,
    must: `≤ ${must}`,
    aim: `≤ ${aim}`,
    held: ratio === null ? null : ratio <= must,
    aimed: ratio === null ? null : ratio <= aim,
  };
}

/** The machine, and how busy it was. */
export const machine = (): string =>
  `${cpus()[0]?.model ?? 'unknown'} × ${cpus().length}, Node ${process.versions.node}, load ${loadavg()
    .map((load) => load.toFixed(1))
    .join(' ')}`;

const verdict = (held: boolean | null): string => (held === null ? '–' : held ? 'yes' : 'NO');

/** Rows as a Markdown table. */
export function table(rows: readonly Row[]): string {
  const cells = rows.map((row) => [
    row.measure,
    row.ours,
    row.reference,
    row.ratio === null ? '–' : row.ratio.toPrecision(3),
    row.must,
    verdict(row.held),
    row.aim,
    verdict(row.aimed),
  ]);
  const head = ['measure', 'ours', 'reference', 'ratio', 'must', 'held', 'aim', 'reached'];
  const line = (row: readonly string[]) => `| ${row.join(' | ')} |`;
  return [line(head), line(head.map(() => '---')), ...cells.map(line)].join('\n');
}
