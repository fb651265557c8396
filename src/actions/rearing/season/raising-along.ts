import { type RaisingShift, raisingShift } from '#domain/rearing/reality/raising-shift.ts';
import type { Wish } from '#domain/rearing/wish.ts';
import { goingAlong, openForAlone } from '#gather/planned-raising.ts';
import type { Change } from '#ports/store.ts';
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
  shift: RaisingShift,
  circumstances: Circumstances,
): Promise<Change[]> {
  const { book, day } = circumstances;
  const { bars, combs } = await goingAlong(book, crosses, shift, day);
  const changes: Change[] = [];
  for (const bar of bars) {
    changes.push(setting('planned_graft', bar.id, { day: bar.day }));
    changes.push(...(await tasksOfBar(bar, null, circumstances)));
  }
  for (const comb of combs) {
    changes.push(setting('planned_comb', comb.id, { in_on: comb.in_on }));
    changes.push(...(await tasksOfCombs(comb, null, circumstances)));
  }
  return changes;
}

/** Gives up what is planned for some crosses alone and can still be left undone. */
async function raisingLeft(crosses: ReadonlySet<RecordId>, { book }: Circumstances): Promise<Change[]> {
  const { bars, combs } = await openForAlone(book, crosses);
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
