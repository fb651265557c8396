import { z } from 'zod';
import { idShape } from '#records/field.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { setting } from '../mechanism/recording.ts';

const input = z.strictObject({ event: idShape, reason: z.string().trim().min(1).max(2_000) });

/** Says afterwards why a pair did not match; the worry of a STOP that was passed is settled with it. */
export const sayWhyStopped = action({
  name: 'say-why-stopped',
  place: 'bench',
  what: 'Say afterwards why a STOP came about; a STOP that was passed is settled with it.',
  input,
  async run({ event, reason }, { book, day }) {
    const stop = await book.get('bench_event', event);
    if (stop === null || !stop.what.startsWith('stop-')) {
      const values = { kind: 'bench_event', id: event };
      return { changes: [], result: null, problems: [refuse('event', 'unknown-record', values)] };
    }
    const worries = await book.find('worry', { about: event, settled_on: null });
    const settled = { settled_on: day, settled_how: reason };
    return {
      changes: [setting('bench_event', event, { reason }), ...worries.map(({ id }) => setting('worry', id, settled))],
      result: { id: event },
    };
  },
});
