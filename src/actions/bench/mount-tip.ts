import { z } from 'zod';
import { idShape, momentShape } from '#records/field.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { lineAt, linesWritten, tubeMade } from '../semen/write-line.ts';

const input = z.strictObject({
  code: z.string().trim().min(1).max(200),
  /** The drones it is going to be filled from. */
  catch: idShape,
  at: momentShape.optional(),
});

/**
 * A tip mounted to collect and give without a rack: the tip is the tube. Its ledger begins with nothing from the catch it is going to
 * be filled from, which is how it belongs to a cross.
 */
export const mountTip = action({
  name: 'mount-tip',
  place: 'bench',
  what: 'Mount a tip to collect from the drones of a catch and give at once, without a rack.',
  input,
  async run({ code, catch: from, at }, circumstances) {
    if ((await circumstances.book.get('drone_catch', from)) === null) {
      const values = { kind: 'drone_catch', id: from };
      return { changes: [], result: null, problems: [refuse('catch', 'unknown-record', values)] };
    }
    const { id, change, problems } = await tubeMade({ code, form: 'tip' }, 'code', circumstances);
    const line = {
      ...lineAt(id, 'collected', { at: at ?? circumstances.done }),
      catch: from,
      volume_ul: 0,
      drones: 0,
    };
    return { changes: [change, ...(await linesWritten([line], circumstances))], result: { id }, problems };
  },
});
