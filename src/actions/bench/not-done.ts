import { z } from 'zod';
import { type NotDoneReason, notDoneReasons } from '#domain/insemination/exception.ts';
import type { Change } from '#ports/store.ts';
import { idShape } from '#records/field.ts';
import { dayOfMoment } from '#units/moment.ts';
import type { RecordId } from '#units/record-id.ts';
import { action, type Circumstances } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';
import { atTheBoard } from './shapes.ts';

const input = z.strictObject({ ...atTheBoard, queen: idShape, reason: z.enum(notDoneReasons) });

/** A queen found dead or gone has her fate with it. */
function fateOf(queen: RecordId, reason: NotDoneReason, { newId, day }: Circumstances): Change[] {
  if (reason !== 'dead' && reason !== 'gone') return [];
  const kind = reason === 'dead' ? 'died' : 'lost';
  return [creating('fate', newId(), { queen, kind, happened_on: day, happened_latest: day })];
}

/** A queen of the queue was not inseminated, and why; the queue goes on. */
export const notDone = action({
  name: 'not-done',
  place: 'bench',
  what: 'Say that a queen of the queue was not inseminated, and why.',
  input,
  async run({ bench_day, cross, queen, reason, at }, circumstances) {
    const id = circumstances.newId();
    const moment = at ?? circumstances.done;
    const row = { queen, bench_day, cross, day: dayOfMoment(moment), moment, done: 0, not_done_why: reason } as const;
    return {
      changes: [creating('insemination', id, row), ...fateOf(queen, reason, circumstances)],
      result: { id },
    };
  },
});
