import type { Journal } from '#ports/store.ts';
import type { RecordId } from '#units/record-id.ts';

/** What of a task a calendar shows: when one of these changes, its entry has changed. */
const SHOWN = ['span_from', 'span_to', 'cancelled'] as const;

/**
 * How often each task was moved, given up or taken up again, steps back included. A calendar takes an entry only when its number is higher than the one it
 * has (RFC 5546, 2.1.4), so what is stepped back must go up too.
 */
export async function timesMoved(journal: Journal, tasks: readonly RecordId[]): Promise<ReadonlyMap<RecordId, number>> {
  const times = new Map<RecordId, number>();
  if (tasks.length === 0) return times;
  for (const { kind, record, before, after } of await journal.changes({ records: tasks })) {
    if (kind !== 'task' || before === null || after === null) continue;
    if (SHOWN.some((field) => field in after)) times.set(record, (times.get(record) ?? 0) + 1);
  }
  return times;
}
