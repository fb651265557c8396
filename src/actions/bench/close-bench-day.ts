import { z } from 'zod';
import { idShape, momentShape } from '#records/field.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { creating, setting } from '../mechanism/recording.ts';
import { microlitreShape, readHowShape } from '../semen/shapes.ts';
import { type Line, lineAt, linesWritten } from '../semen/write-line.ts';

const input = z.strictObject({
  bench_day: idShape,
  /** Items of the put-away list that were done, in the breeder's own words. */
  ticked: z.array(z.string().trim().min(1).max(200)).max(20).optional(),
  /** Tubes measured again at the end; 0 µl = empty. */
  remeasured: z
    .array(z.strictObject({ tube: idShape, microlitres: microlitreShape, read_how: readHowShape.optional() }))
    .max(200)
    .optional(),
  at: momentShape.optional(),
});

/** Puts the bench away: what was ticked, tubes measured again, and the day is closed. Everything open stays open as a worry. */
export const closeBenchDay = action({
  name: 'close-bench-day',
  place: 'bench',
  what: 'Put the bench away: items ticked, tubes measured again, the day closed.',
  input,
  async run({ bench_day, ticked = [], remeasured = [], at }, circumstances) {
    const { book, newId, done } = circumstances;
    const row = await book.get('bench_day', bench_day);
    if (row === null) {
      const values = { kind: 'bench_day', id: bench_day };
      return { changes: [], result: null, problems: [refuse('bench_day', 'unknown-record', values)] };
    }
    const moment = at ?? done;
    const lines = remeasured.map(
      ({ tube, microlitres, read_how }): Line => ({
        ...lineAt(tube, 're-measured', { at: moment, person: row.operator ?? undefined }),
        volume_ul: microlitres,
        read_how: read_how ?? null,
      }),
    );
    return {
      changes: [
        ...ticked.map((words) => creating('bench_event', newId(), { bench_day, moment, what: 'put-away', words })),
        ...(await linesWritten(lines, circumstances)),
        setting('bench_day', bench_day, { closed: moment }),
      ],
      result: { id: bench_day },
    };
  },
});
