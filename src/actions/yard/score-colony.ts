import { z } from 'zod';
import { problemsOfReading, valueOfReading } from '#domain/scoring/reading-value.ts';
import { warningsOfReading } from '#domain/scoring/reading-warnings.ts';
import { dayShape, idShape } from '#records/field.ts';
import { methods, reasonsNotJudged } from '#records/scoring.ts';
import type { Day } from '#units/calendar-day.ts';
import { type Problem, refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';
import { headOf } from './where-she-is.ts';

const count = z.int().min(0).max(1_000_000);

/**
 * One trait read. `value` as it is, or a count among a count, or only the cells of a test that is read another day, or why it was not judged.
 */
const reading = z.strictObject({
  trait: z.string().trim().min(1).max(100),
  value: z.number().nullable().optional(),
  unit: z.string().trim().min(1).max(40).optional(),
  method: z.enum(methods).optional(),
  not_judged: z.enum(reasonsNotJudged).optional(),
  counted: count.optional(),
  among: count.optional(),
  empty_before: count.optional(),
  /** First day of the span the reading sums up, such as honey of a season or days of a board. */
  span_from: dayShape.optional(),
});
type Reading = z.infer<typeof reading>;

const input = z.strictObject({
  colony: idShape,
  day: dayShape.optional(),
  person: idShape.optional(),
  /** The visit it belongs to: yard, person, weather. */
  visit: idShape.optional(),
  readings: z.array(reading).min(1).max(40),
  /** Is it still the same queen? */
  queen_seen: z.enum(['seen', 'unmarked', 'other', 'not-seen']).optional(),
});

function problemsOf(each: Reading, day: Day, path: string): Problem[] {
  const { value, counted, among, not_judged } = each;
  const isRead = value != null || counted !== undefined || among !== undefined;
  if (!isRead && not_judged === undefined) return [refuse(path, 'score-nothing-read', { trait: each.trait })];
  if (not_judged !== undefined) return isRead ? [refuse(path, 'score-judged-and-not', { trait: each.trait })] : [];
  const entered = { ...each, day };
  const begun = among !== undefined && counted === undefined && value == null;
  return [...(begun ? [] : problemsOfReading(entered, `${path}.`)), ...warningsOfReading(entered, `${path}.`)];
}

/** Writes down a score card of one colony: several traits of one visit, and whether it is the same queen. */
export const scoreColony = action({
  name: 'score-colony',
  place: 'yard',
  what: 'Write down a score card of one colony, and whether its queen is still the same.',
  input,
  async run({ colony, day, person, visit, readings, queen_seen }, { book, newId, day: today }) {
    const on = day ?? today;
    const card = { colony, day: on, person: person ?? null };
    const problems = readings.flatMap((each, n) => problemsOf(each, on, `readings.${n}`));
    const scores = readings.map((each) => {
      const value = each.not_judged === undefined ? (valueOfReading({ ...each, day: on })?.value ?? null) : null;
      return creating('score', newId(), { ...each, value, ...card, visit: visit ?? null });
    });
    const queen = await headOf(book, colony);
    const seen = queen_seen === undefined ? [] : [creating('laying_check', newId(), { ...card, queen, queen_seen })];
    return { changes: [...scores, ...seen], result: { scores: scores.length }, problems };
  },
});
