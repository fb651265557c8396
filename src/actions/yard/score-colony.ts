import { z } from 'zod';
import { dayShape, idShape } from '#records/field.ts';
import { action } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';
import { headOf } from './where-she-is.ts';

const reading = z.strictObject({
  trait: z.string().trim().min(1).max(100),
  value: z.number(),
  unit: z.string().trim().min(1).max(40).optional(),
  /** First day of the span the reading sums up, such as honey of a season. */
  span_from: dayShape.optional(),
});

const input = z.strictObject({
  colony: idShape,
  day: dayShape.optional(),
  person: idShape.optional(),
  readings: z.array(reading).min(1).max(40),
  /** Is it still the same queen? */
  queen_seen: z.enum(['seen', 'unmarked', 'other', 'not-seen']).optional(),
});

/** Writes down a score card of one colony: several traits of one visit, and whether it is the same queen. */
export const scoreColony = action({
  name: 'score-colony',
  place: 'yard',
  what: 'Write down a score card of one colony, and whether its queen is still the same.',
  input,
  async run({ colony, day, person, readings, queen_seen }, { book, newId, day: today }) {
    const on = day ?? today;
    const visit = { colony, day: on, person: person ?? null };
    const scores = readings.map((each) => creating('score', newId(), { ...each, ...visit }));
    const queen = await headOf(book, colony);
    const seen = queen_seen === undefined ? [] : [creating('laying_check', newId(), { ...visit, queen, queen_seen })];
    return { changes: [...scores, ...seen], result: { scores: scores.length } };
  },
});
