/** What a count in the yard says, in the trait's unit, with the range its size leaves open. */
import { clopperPearson } from '#numeric/intervals/clopper-pearson.ts';
import type { Interval } from '#numeric/intervals/interval.ts';
import { poissonExact } from '#numeric/intervals/poisson-exact.ts';
import { wilson } from '#numeric/intervals/wilson.ts';
import type { Day } from '#units/calendar-day.ts';
import { daysBetween } from '#units/calendar-day.ts';
import { type Problem, refuse } from '#units/problem.ts';
import { removal } from '../worth/traits/season-values.ts';
import { allSteps, ruleOf, STRENGTH } from './trait.ts';

/** A reading as it was entered. */
export type Entered = {
  trait: string;
  value?: number | null | undefined;
  counted?: number | null | undefined;
  among?: number | null | undefined;
  empty_before?: number | null | undefined;
  span_from?: Day | null | undefined;
  day: Day;
};

/** A value with the 95 % range of its count; the range is `null` where nothing was counted. */
export type ReadingValue = { value: number; range: Interval | null };

const isCount = (n: number | null | undefined): n is number => typeof n === 'number';

/**
 * Cells emptied of cells capped: `(emptied − empty before) / capped`, Wilson's range of that count. Solidness: cells that are not empty, of cells
 * looked at.
 */
function ofCells(trait: string, counted: number, among: number, before: number): ReadingValue | null {
  if (trait === 'solidness') {
    const filled = among - counted;
    return among > 0 ? { value: filled / among, range: wilson(filled, among) } : null;
  }
  const value = removal({ capped: among, emptyBefore: before, emptyAfter: counted });
  return value === null ? null : { value, range: wilson(Math.min(among, Math.max(0, counted - before)), among) };
}

/** Mites to 100 bees, with the exact range of a count among bees (Clopper and Pearson 1934). */
function ofMites(counted: number, among: number): ReadingValue | null {
  if (among === 0) return null;
  const { low, high } = clopperPearson(Math.min(counted, among), among);
  return { value: (100 * counted) / among, range: { low: 100 * low, high: 100 * high } };
}

/** Mites a day on a board, with the exact range of a count (Garwood 1936). */
function ofFall(counted: number, from: Day | null | undefined, to: Day): ReadingValue | null {
  const days = from == null ? 0 : daysBetween(from, to);
  if (days <= 0) return null;
  const { low, high } = poissonExact(counted);
  return { value: counted / days, range: { low: low / days, high: high / days } };
}

/** The value of a reading: worked out from its counts where there are any, else as it was given; `null` when there is none yet. */
export function valueOfReading(entered: Entered): ReadingValue | null {
  const { trait, value, counted, among, empty_before, span_from, day } = entered;
  const { readAs } = ruleOf(trait);
  if (isCount(counted)) {
    if (readAs === 'cells' && isCount(among)) return ofCells(trait, counted, among, empty_before ?? 0);
    if (readAs === 'mites' && isCount(among)) return ofMites(counted, among);
    if (readAs === 'fall') return ofFall(counted, span_from, day);
  }
  return typeof value === 'number' ? { value, range: null } : null;
}

/** What cannot be as a reading: off the scale, more emptied than there were cells, a board without days. */
export function problemsOfReading(entered: Entered, path: string): Problem[] {
  const { trait, value, counted, among, empty_before } = entered;
  const { readAs, unit } = ruleOf(trait);
  const at = (field: string) => `${path}${field}`;
  const problems: Problem[] = [];
  if (readAs === 'steps' && typeof value === 'number' && !allSteps.includes(value))
    problems.push(refuse(at('value'), 'score-off-scale', { found: value }));
  const isNegative = (readAs === 'kilograms' || trait === STRENGTH) && typeof value === 'number' && value < 0;
  if (isNegative) problems.push(refuse(at('value'), 'score-below-zero', { found: value }));
  if (unit === 'part' && !isCount(counted) && typeof value === 'number' && (value < 0 || value > 1))
    problems.push(refuse(at('value'), 'score-not-a-part', { found: value }));
  if (readAs === 'cells' && isCount(counted) && !isCount(among))
    problems.push(refuse(at('among'), 'score-among-needed'));
  if (readAs === 'cells' && isCount(counted) && isCount(among) && counted > among + (empty_before ?? 0))
    problems.push(refuse(at('counted'), 'score-more-than-cells', { counted, among: among + (empty_before ?? 0) }));
  if (readAs === 'mites' && isCount(counted) && !(isCount(among) && among > 0))
    problems.push(refuse(at('among'), 'score-bees-needed'));
  if (readAs === 'fall' && isCount(counted) && valueOfReading(entered) === null)
    problems.push(refuse(at('span_from'), 'score-days-needed'));
  return problems;
}
