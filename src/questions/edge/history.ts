import { z } from 'zod';
import type { RecordedAct, RecordedChange } from '#ports/store.ts';
import { idShape } from '#records/field.ts';
import { type Question, question } from '../mechanism/question.ts';

const input = z.strictObject({
  /** Only acts that touched this record. */
  record: idShape.optional(),
  /** At most this many, the newest. */
  newest: z.int().min(1).max(10_000).optional(),
});

export type HistoryAct = {
  id: string;
  seq: number;
  what: string;
  who: string | null;
  device: string | null;
  done: string;
  recorded: string;
  undoes: readonly string[];
  steppedBackBy: string | null;
  changes: readonly Pick<RecordedChange, 'kind' | 'record' | 'before' | 'after'>[];
};

const asHistory = (act: RecordedAct, changes: readonly RecordedChange[]): HistoryAct => ({
  id: act.id,
  seq: act.seq,
  what: act.name,
  who: act.who,
  device: act.device,
  done: act.done,
  recorded: act.recorded,
  undoes: act.undoes,
  steppedBackBy: act.steppedBackBy,
  changes: changes.map(({ kind, record, before, after }) => ({ kind, record, before, after })),
});

type Gathered = { acts: RecordedAct[]; changes: RecordedChange[] };

/** What was done, newest first; with `record`, what was done to it and each old and new value. */
export const history: Question<z.infer<typeof input>, Gathered, { acts: HistoryAct[] }> = question({
  name: 'history',
  what: 'What was done, by whom, newest first; for one record with every old and new value.',
  input,
  reads: 'all',
  async gather({ record, newest = 200 }, journal) {
    const records = record === undefined ? undefined : [record];
    const acts = await journal.acts({ newest, ...(records === undefined ? {} : { records }) });
    const changes = records === undefined ? [] : await journal.changes({ records });
    return { acts, changes };
  },
  answer({ acts, changes }) {
    const newestFirst = [...acts].reverse();
    return {
      acts: newestFirst.map((act) =>
        asHistory(
          act,
          changes.filter(({ seq }) => seq === act.seq),
        ),
      ),
    };
  },
});
