/** What is worth saying about a reading before it is kept: it stands, but it tells less than it seems to. */
import { daysBetween } from '#units/calendar-day.ts';
import { type Problem, warn } from '#units/problem.ts';
import type { Entered } from './reading-value.ts';
import { ruleOf } from './trait.ts';

/** A wash takes about 300 bees, half a cup (Dietemann and others 2013, J. Apic. Res. 52(1), 10.3896/IBRA.1.52.1.09, § 4.2.3); under half of that says little. */
export const FEWEST_BEES = 150;
/** A brood test takes 50 cells or more (Büchler and others 2013, J. Apic. Res. 52(1), 10.3896/IBRA.1.52.1.07, § 3.3.5). */
export const FEWEST_CELLS = 50;
/** Not more than one cell in ten empty when a brood test begins (pin test as usually taught; common practice). */
export const MOST_EMPTY = 0.1;
/** Fall is counted over three weeks or more (Dietemann and others 2013, § 4.1.1). */
export const SHORTEST_FALL = 21;

/** Days from the beginning of a brood test to its reading: about 24 h after pins (B13 § 3.3.5), 48 h after frost (Spivak and Reuter 1998, Apidologie 29:291). */
export const daysOfTest = (method: string | null | undefined): number => (method === 'freeze' ? 2 : 1);

type Told = Entered & { method?: string | null | undefined };

function ofCells({ among, empty_before, counted, method, span_from, day }: Told, at: (field: string) => string) {
  const said: Problem[] = [];
  const cells = among ?? 0;
  const before = empty_before ?? 0;
  if (cells < FEWEST_CELLS) said.push(warn(at('among'), 'score-few-cells', { found: cells, least: FEWEST_CELLS }));
  if (before > MOST_EMPTY * (cells + before))
    said.push(warn(at('empty_before'), 'score-many-empty', { found: before }));
  const days = span_from == null ? null : daysBetween(span_from, day);
  const usual = daysOfTest(method);
  if (typeof counted === 'number' && days !== null && days !== usual)
    said.push(warn(at('counted'), 'score-test-days', { days, usual }));
  return said;
}

/**
 * Warnings about a reading: few bees washed, few cells, cells empty before the test, a test read too soon or too late, a board for a few days only.
 * @param path prefix of the field paths, such as `readings.0.`
 */
export function warningsOfReading(entered: Told, path: string): Problem[] {
  const { trait, counted, among, span_from, day } = entered;
  const at = (field: string) => `${path}${field}`;
  const { readAs } = ruleOf(trait);
  if (readAs === 'cells' && typeof among === 'number' && trait !== 'solidness') return ofCells(entered, at);
  if (typeof counted !== 'number') return [];
  if (readAs === 'mites' && typeof among === 'number' && among > 0 && among < FEWEST_BEES)
    return [warn(at('among'), 'score-few-bees', { found: among, least: FEWEST_BEES })];
  const days = span_from == null ? 0 : daysBetween(span_from, day);
  if (readAs === 'fall' && days > 0 && days < SHORTEST_FALL)
    return [warn(at('span_from'), 'score-short-fall', { days, least: SHORTEST_FALL })];
  return [];
}
