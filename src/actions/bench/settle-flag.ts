import { z } from 'zod';
import { idShape } from '#records/field.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { setting } from '../mechanism/recording.ts';
import { exceptionsMade } from './give-dose.ts';
import { exceptionShape } from './shapes.ts';

const input = z.strictObject({
  insemination: idShape,
  /** What it was; leave it out when there was nothing after all. */
  reason: exceptionShape.optional(),
  words: z.string().trim().min(1).max(2_000).optional(),
});

/** Says afterwards why a queen was flagged at the bench. */
export const settleFlag = action({
  name: 'settle-flag',
  place: 'bench',
  what: 'Say afterwards why a queen was flagged at the bench, or that there was nothing.',
  input,
  async run({ insemination, reason, words }, circumstances) {
    const { book } = circumstances;
    const of = await book.get('insemination', insemination);
    const [flag] = await book.find('insemination_exception', { insemination, kind: 'flagged' });
    if (of === null || flag === undefined) {
      const values = { kind: 'insemination', id: insemination };
      return { changes: [], result: null, problems: [refuse('insemination', 'not-flagged', values)] };
    }
    const known =
      reason !== undefined && (await book.count('insemination_exception', { insemination, kind: reason })) > 0;
    const exceptions = reason === undefined || known ? [] : [reason];
    return {
      changes: [
        ...exceptionsMade({ insemination, queen: of.queen, exceptions }, circumstances),
        setting('insemination_exception', flag.id, { words: words ?? reason ?? '–' }),
      ],
      result: { id: insemination },
    };
  },
});
