import { z } from 'zod';
import { idShape } from '#records/field.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { setting } from '../mechanism/recording.ts';

/** Settles an open worry with a word on how. */
export const settleWorry = action({
  name: 'settle-worry',
  place: 'today',
  what: 'Settle an open worry, with a word on how.',
  input: z.strictObject({ worry: idShape, how: z.string().trim().min(1).max(2_000) }),
  async run({ worry, how }, { book, day }) {
    if ((await book.get('worry', worry)) === null)
      return { changes: [], result: null, problems: [refuse('worry', 'unknown-record', { kind: 'worry', id: worry })] };
    return { changes: [setting('worry', worry, { settled_on: day, settled_how: how })], result: { id: worry } };
  },
});
