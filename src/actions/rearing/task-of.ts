import type { Book, Change } from '#ports/store.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { setting } from '../mechanism/recording.ts';

/** Tasks of a cross that an act does: what has happened is the tick. */
export async function doneByAct(
  book: Book,
  { cross, keys, on }: { cross: RecordId | null | undefined; keys: readonly string[]; on: Day },
): Promise<Change[]> {
  if (cross == null) return [];
  const open = await book.find('task', { cross, key: keys, done_on: null });
  return open.filter(({ cancelled }) => cancelled !== 1).map(({ id }) => setting('task', id, { done_on: on }));
}
