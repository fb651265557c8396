import type { Facts, Journal, RecordedChange } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
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

const USES: readonly KindName[] = ['planned_graft_use', 'planned_comb_use'];

type Thing = RecordId | null | undefined;

/** Bars and combs that are or were planned for a cross, as far as the book and what was stepped back say. */
async function plannedFor(
  book: Facts & Journal,
  cross: RecordId,
  gone: readonly RecordedChange[],
): Promise<Set<Thing>> {
  const left = gone
    .filter(({ kind }) => USES.includes(kind))
    .map((change) => change.before as Record<string, Thing>)
    .filter((use) => use.cross === cross);
  return new Set<Thing>([
    ...left.map((use) => use.planned_graft ?? use.planned_comb),
    ...(await book.find('planned_graft_use', { cross })).map((use) => use.planned_graft),
    ...(await book.find('planned_comb_use', { cross })).map((use) => use.planned_comb),
  ]);
}

/** Tasks of a cross, and of bars and combs that were planned for it, that were taken out of the book: the act that wrote them was stepped back. */
async function droppedFor(book: Facts & Journal, cross: RecordId): Promise<RecordedChange[]> {
  const changes = await book.changes({ steppingBack: true, kinds: ['task', ...USES] });
  const gone = changes.filter(({ after }) => after === null);
  const planned = await plannedFor(book, cross, gone);
  return gone.filter((change) => {
    if (change.kind !== 'task') return false;
    const task = written(change);
    return task.cross === cross || planned.has(task.planned_graft ?? task.planned_comb);
  });
}

/**
 * The tasks of a cross with the numbers a calendar goes by, and what it may still hold and should drop. A calendar takes an entry only when its number is higher
 * than the one it has (RFC 5546, 2.1.4), so the number counts every change of an entry: written, moved, given up, stepped back and written again.
 */
export async function calendarEntries(
  book: Facts & Journal,
  cross: RecordId,
  tasks: readonly TaskLine[],
): Promise<{ tasks: TaskLine[]; gone: GoneEntry[] }> {
  const dropped = await droppedFor(book, cross);
  const records = [...new Set([...tasks.map(({ id }) => id as RecordId), ...dropped.map(({ record }) => record)])];
  const changes = records.length === 0 ? [] : await book.changes({ records });
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
