import { type RaisingShift, raisingShift } from '#domain/rearing/reality/raising-shift.ts';
import type { Wish } from '#domain/rearing/wish.ts';
import { openForAlone } from '#gather/planned-raising.ts';
import type { Change } from '#ports/store.ts';
import { addDays } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import type { Circumstances } from '../../mechanism/action.ts';
import { setting } from '../../mechanism/recording.ts';
import { giveUpBar, giveUpCombs, tasksOfBar, tasksOfCombs } from './planned-tasks.ts';

/**
 * The changes that take bars and combs planned for some crosses alone along with their day, tasks and calendar entries with them. What was grafted, hung in or
 * ticked has happened and stays; so does what would have to be done before today.
 */
export async function raisingMoved(
  crosses: ReadonlySet<RecordId>,
  { queens, drones }: RaisingShift,
  circumstances: Circumstances,
): Promise<Change[]> {
  const { book, day } = circumstances;
  const { bars, combs } = await openForAlone(book, crosses, day);
  const changes: Change[] = [];
  for (const bar of queens === 0 ? [] : bars) {
    const moved = { ...bar, day: addDays(bar.day, queens) };
    if (moved.day < day) continue;
    changes.push(setting('planned_graft', bar.id, { day: moved.day }));
    changes.push(...(await tasksOfBar(moved, null, circumstances)));
  }
  for (const comb of drones === 0 ? [] : combs) {
    const moved = { ...comb, in_on: addDays(comb.in_on, drones) };
    if (moved.in_on < day) continue;
    changes.push(setting('planned_comb', comb.id, { in_on: moved.in_on }));
    changes.push(...(await tasksOfCombs(moved, null, circumstances)));
  }
  return changes;
}

/** Gives up what is planned for some crosses alone and can still be left undone. */
async function raisingLeft(crosses: ReadonlySet<RecordId>, { book, day }: Circumstances): Promise<Change[]> {
  const { bars, combs } = await openForAlone(book, crosses, day);
  const changes: Change[] = [];
  for (const bar of bars) changes.push(...(await giveUpBar(book, bar)));
  for (const comb of combs) changes.push(...(await giveUpCombs(book, comb)));
  return changes;
}

/** What goes along when one cross becomes another plan: moved with its day and ages, given up with its day. */
export async function raisingAlong(
  cross: RecordId,
  { before, after }: { before: Wish | null; after: Wish | null },
  circumstances: Circumstances,
): Promise<Change[]> {
  const alone = new Set([cross]);
  if (before === null) return [];
  if (after === null) return raisingLeft(alone, circumstances);
  return raisingMoved(alone, raisingShift(before, after), circumstances);
}
