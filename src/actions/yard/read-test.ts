import { z } from 'zod';
import { problemsOfReading, valueOfReading } from '#domain/scoring/reading-value.ts';
import { warningsOfReading } from '#domain/scoring/reading-warnings.ts';
import { dayShape, idShape } from '#records/field.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { setting } from '../mechanism/recording.ts';

const input = z.strictObject({
  /** The reading that began the test. */
  score: idShape,
  /** Cells empty now, those empty before the test among them. */
  counted: z.int().min(0).max(1_000_000),
  hours: z.number().min(0).max(1000).optional(),
  day: dayShape.optional(),
  person: idShape.optional(),
});

/** Counts the cells of a brood test begun another day: its days become the span of the reading. */
export const readTest = action({
  name: 'read-test',
  place: 'yard',
  what: 'Count the emptied cells of a brood test that was begun another day.',
  input,
  async run({ score, counted, hours, day, person }, { book, day: today }) {
    const row = await book.get('score', score);
    const no = (...problems: ReturnType<typeof refuse>[]) => ({ changes: [], result: null, problems });
    if (row === null) return no(refuse('score', 'unknown-record', { kind: 'score', id: score }));
    if (row.value !== null || row.not_judged !== null) return no(refuse('score', 'score-read-already'));
    const on = day ?? today;
    if (on < row.day) return no(refuse('day', 'score-before-begun', { begun: row.day }));
    const read = { ...row, counted, span_from: row.day, day: on };
    const set = {
      counted,
      value: valueOfReading(read)?.value ?? null,
      hours: hours ?? null,
      span_from: row.day,
      day: on,
    };
    return {
      changes: [setting('score', score, { ...set, ...(person === undefined ? {} : { person }) })],
      result: { value: set.value },
      problems: [...problemsOfReading(read, ''), ...warningsOfReading(read, '')],
    };
  },
});
