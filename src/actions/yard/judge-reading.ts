import { z } from 'zod';
import { idShape } from '#records/field.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { setting } from '../mechanism/recording.ts';

const input = z.strictObject({
  score: idShape,
  /** `null` gives it back to the rule of turnover. */
  hers: z.enum(['wholly', 'partly', 'not']).nullable(),
  /** Another queen than the one who headed the colony. */
  queen: idShape.nullable().optional(),
});

/** A person judges whose result a reading is; the rule of turnover steps back. Only what is wholly hers counts towards worth. */
export const judgeReading = action({
  name: 'judge-reading',
  place: 'yard',
  what: 'Judge whether a reading is wholly, partly or not the result of the queen.',
  input,
  async run({ score, hers, queen }, { book }) {
    if ((await book.get('score', score)) === null)
      return { changes: [], result: null, problems: [refuse('score', 'unknown-record', { kind: 'score', id: score })] };
    const set = { judged_hers: hers, ...(queen === undefined ? {} : { queen }) };
    return { changes: [setting('score', score, set)], result: { score } };
  },
});
