import type { Book, Change } from '#ports/store.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { setting } from '../mechanism/recording.ts';
import { crossOf, queensOfCross } from './cross-checks.ts';

/** The crosses some queens were inseminated in. */
export async function crossesOf(book: Book, queens: readonly RecordId[]): Promise<RecordId[]> {
  const crosses = new Set<RecordId>();
  for (const queen of queens) {
    const cross = await crossOf(book, queen);
    if (cross !== null) crosses.add(cross);
  }
  return [...crosses];
}

/**
 * A task of a cross that has to be done to each of its queens is done when none is left to do it to: `isSettled` tells
 * who needs it no more, by this act or before; the dead need nothing.
 */
export async function doneForAll(
  book: Book,
  {
    queens,
    key,
    isSettled,
    on,
  }: {
    queens: readonly RecordId[];
    key: string;
    isSettled: (queen: RecordId) => boolean;
    on: Day;
  },
): Promise<Change[]> {
  const changes: Change[] = [];
  for (const cross of await crossesOf(book, queens)) {
    const members = await queensOfCross(book, cross);
    const ended = new Set((await book.find('fate', { queen: members })).map(({ queen }) => queen));
    if (members.some((queen) => !isSettled(queen) && !ended.has(queen))) continue;
    const tasks = await book.find('task', { cross, key, done_on: null });
    changes.push(...tasks.map(({ id }) => setting('task', id, { done_on: on })));
  }
  return changes;
}
