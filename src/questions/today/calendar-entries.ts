import type { Journal, RecordedChange } from '#ports/store.ts';
import type { Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import type { TaskLine } from './task-line.ts';

/** What of a task a calendar shows: when one of these changes, its entry has changed. */
const SHOWN = ['span_from', 'span_to', 'cancelled'] as const;

/** An entry a calendar may hold of a task that is not in the book any more: the act that wrote it was stepped back. */
export type GoneEntry = Pick<TaskLine, 'uid' | 'key' | 'words' | 'from' | 'to' | 'sequence'>;

type Written = Pick<
  Row<'task'>,
  'uid' | 'key' | 'words' | 'span_from' | 'span_to' | 'cross' | 'planned_graft' | 'planned_comb'
>;

const written = ({ before, after }: RecordedChange) => (after ?? before) as unknown as Written;
const isWhole = ({ before, after }: RecordedChange) => before === null || after === null;
const isShown = (change: RecordedChange) => isWhole(change) || SHOWN.some((field) => field in (change.after ?? {}));

/** Tasks of a cross, and of bars and combs that were planned for it, that an act on the cross took out of the book. */
async function droppedFor(journal: Journal, cross: RecordId): Promise<RecordedChange[]> {
  const acts = await journal.acts({ records: [cross] });
  const changes = await journal.changes({ acts: acts.map(({ id }) => id) });
  const uses = changes
    .filter(({ kind }) => kind === 'planned_graft_use' || kind === 'planned_comb_use')
    .map((change) => (change.after ?? change.before) as Record<string, unknown>)
    .filter((use) => use.cross === cross);
  const planned = new Set(uses.map((use) => use.planned_graft ?? use.planned_comb));
  return changes.filter((change) => {
    if (change.kind !== 'task' || change.after !== null) return false;
    const task = written(change);
    return task.cross === cross || planned.has(task.planned_graft ?? task.planned_comb);
  });
}

/**
 * The tasks of a cross with the numbers a calendar goes by, and what it may still hold and should drop. A calendar takes an entry only when its number is higher
 * than the one it has (RFC 5546, 2.1.4), so the number counts every change of an entry: written, moved, given up, stepped back and written again.
 */
export async function calendarEntries(
  journal: Journal,
  cross: RecordId,
  tasks: readonly TaskLine[],
): Promise<{ tasks: TaskLine[]; gone: GoneEntry[] }> {
  const dropped = await droppedFor(journal, cross);
  const records = [...new Set([...tasks.map(({ id }) => id as RecordId), ...dropped.map(({ record }) => record)])];
  const changes = records.length === 0 ? [] : await journal.changes({ records });
  const uids = new Map([
    ...changes.filter(isWhole).map((change) => [change.record, written(change).uid] as const),
    ...tasks.map(({ id, uid }) => [id as RecordId, uid] as const),
  ]);
  const ofTasks = changes.filter((change) => change.kind === 'task' && isShown(change));
  const byUid = groupBy(ofTasks, ({ record }) => uids.get(record) ?? '');
  const times = (uid: string) => Math.max(0, (byUid.get(uid) ?? []).length - 1);
  const held = new Set(tasks.map(({ uid }) => uid));
  const gone = new Map(dropped.map((change) => [written(change).uid, written(change)]));
  return {
    tasks: tasks.map((task) => ({ ...task, sequence: Math.max(task.sequence, times(task.uid)) })),
    gone: [...gone.values()]
      .filter(({ uid }) => !held.has(uid))
      .map(({ uid, key, words, span_from, span_to }) => ({
        ...{ uid, key, words },
        from: span_from as Day,
        to: span_to as Day,
        sequence: times(uid),
      })),
  };
}
