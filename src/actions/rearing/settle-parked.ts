import { z } from 'zod';
import { idShape } from '#records/field.ts';
import { action } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';

const input = z.strictObject({
  /** The act that could not be done. */
  parked: idShape,
  what: z.string().max(200),
  how: z.string().trim().min(1).max(2_000),
});

/** Lets an act of a device go that could not be done, with a word on why; the word stays in the history. */
export const settleParked = action({
  name: 'settle-parked',
  place: 'today',
  what: 'Let an act of a device go that could not be done, with a word on why.',
  input,
  async run({ parked, what, how }, { newId, day }) {
    const id = newId();
    const said = JSON.stringify({ act: parked, what });
    return {
      changes: [creating('worry', id, { code: 'parked-act', said, settled_on: day, settled_how: how })],
      result: { id },
    };
  },
});
