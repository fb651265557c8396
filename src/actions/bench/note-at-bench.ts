import { z } from 'zod';
import { benchEventKinds } from '#records/bench.ts';
import { idShape, momentShape } from '#records/field.ts';
import { doubt } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';

const input = z.strictObject({
  bench_day: idShape,
  cross: idShape.optional(),
  what: z.enum(benchEventKinds),
  at: momentShape.optional(),
  tip: z.int().min(0).optional(),
  tube: idShape.optional(),
  queen: idShape.optional(),
  words: z.string().trim().min(1).max(2_000).optional(),
});

/** Notes what goes on around the queens: a new tip, the next capillary, a pause, a STOP and how it ended, an item ticked. */
export const noteAtBench = action({
  name: 'note-at-bench',
  place: 'bench',
  what: 'Note a new tip, the next capillary, a pause, a STOP and how it ended, or an item of a list that was ticked.',
  input,
  async run({ at, ...given }, { newId, done }) {
    const id = newId();
    const isStop = given.what === 'stop-passed' || given.what === 'stop-taken-away';
    const values = { kind: 'bench_event', id, label: given.words ?? '' };
    const passed = given.what === 'stop-passed' ? [doubt('what', 'stop-was-passed', values)] : [];
    const problems = isStop ? passed : [];
    return { changes: [creating('bench_event', id, { ...given, moment: at ?? done })], result: { id }, problems };
  },
});
