/** What moved between two runs, in columns: a large stock's changes cross from a worker to a page without a pause. */
import type { Change } from './what-changed.ts';

/** One number a queen in each column, in the order of `queens`, on the scale of evaluation; NaN = not told. */
export type ChangeColumns = {
  queens: string[];
  from: Float64Array;
  to: Float64Array;
  byModel: Float64Array;
  byDescent: Float64Array;
  byRecords: Float64Array;
  byBase: Float64Array;
  /** Queens in both runs that moved most, the largest move first; those that did not move are left out. */
  most: Change[];
};

const columns = ['from', 'to', 'byModel', 'byDescent', 'byRecords', 'byBase'] as const;
/** Moves of less than this, on the scale of evaluation, are rounding. */
const ROUNDING = 1e-9;

/**
 * Changes as columns on the scale of evaluation, in the order given (the largest move first), null as NaN, and those `most` that moved most; moves below 1e-9
 * are rounding and are not among these. No changes give empty columns.
 * @param most whole, 0 or more
 * @example const change = { queen: 'A', code: 'A-1', from: 1, to: 3, byModel: 0, byDescent: 0.5, byRecords: 1.5, byBase: 0 };
 * changeColumns([change], 8).byRecords // [1.5]
 */
export function changeColumns(changes: readonly Change[], most: number): ChangeColumns {
  const told = columns.map(
    (name) => [name, Float64Array.from(changes, (change) => change[name] ?? Number.NaN)] as const,
  );
  const moved = changes.filter(({ from, to }) => from !== null && to !== null && Math.abs(to - from) > ROUNDING);
  return {
    queens: changes.map(({ queen }) => queen),
    ...(Object.fromEntries(told) as Record<(typeof columns)[number], Float64Array>),
    most: moved.slice(0, most),
  };
}

/**
 * One queen's change out of the columns, on the scale of evaluation, NaN as null again; `undefined` when she is not among them. Time grows with the queens.
 * @example const change = { queen: 'A', code: 'A-1', from: null, to: 3, byModel: 0, byDescent: 0, byRecords: 0, byBase: 0 };
 * changeOf(changeColumns([change], 8), 'A') // { queen: 'A', from: null, to: 3 }
 */
export function changeOf(told: ChangeColumns, queen: string): Omit<Change, 'code'> | undefined {
  const at = told.queens.indexOf(queen);
  if (at < 0) return undefined;
  const value = (name: (typeof columns)[number]) => told[name][at] as number;
  const orNull = (name: 'from' | 'to') => (Number.isNaN(value(name)) ? null : value(name));
  return {
    queen,
    from: orNull('from'),
    to: orNull('to'),
    byModel: value('byModel'),
    byDescent: value('byDescent'),
    byRecords: value('byRecords'),
    byBase: value('byBase'),
  };
}
