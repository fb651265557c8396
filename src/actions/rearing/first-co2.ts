import { crossesOfVirgins } from '#gather/virgins.ts';
import type { Book, Change } from '#ports/store.ts';
import type { Day } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { doneByAct } from './task-of.ts';

/** The task of first carbon dioxide is done with the last living virgin of a cross that gets it. */
export async function firstCo2Done(book: Book, queens: readonly RecordId[], day: Day): Promise<Change[]> {
  const changes: Change[] = [];
  const treated = new Set([...queens, ...(await book.find('co2_queen')).map(({ queen }) => queen)]);
  const gone = new Set((await book.find('fate')).map(({ queen }) => queen));
  for (const [cross, members] of groupBy([...(await crossesOfVirgins(book))], ([, each]) => each)) {
    const ids = members.map(([queen]) => queen);
    if (!ids.some((queen) => queens.includes(queen))) continue;
    if (ids.some((queen) => !treated.has(queen) && !gone.has(queen))) continue;
    changes.push(...(await doneByAct(book, { cross, keys: ['first-co2'], on: day })));
  }
  return changes;
}
