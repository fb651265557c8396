import { z } from 'zod';
import { idShape } from '#records/field.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { setting } from '../mechanism/recording.ts';
import { cancelling } from '../rearing/recount.ts';
import { giveUpForAlone } from '../rearing/season/write-planned.ts';

/** Gives a cross up: its open tasks are cancelled with it, so a calendar drops them too. Step back brings all back. */
export const cancelCross = action({
  name: 'cancel-cross',
  place: 'crosses',
  what: 'Give up a planned cross; its open tasks are cancelled with it.',
  input: z.strictObject({ cross: idShape }),
  async run({ cross }, { book }) {
    const row = await book.get('cross', cross);
    if (row === null)
      return { changes: [], result: null, problems: [refuse('cross', 'unknown-record', { kind: 'cross', id: cross })] };
    const tasks = await book.find('task', { cross });
    return {
      changes: [
        setting('cross', cross, { cancelled: 1 }),
        ...tasks.flatMap(cancelling),
        ...(await giveUpForAlone(book, new Set([cross]))),
      ],
      result: { id: cross },
    };
  },
});
