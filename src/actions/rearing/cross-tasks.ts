import { countBack } from '#domain/rearing/count-back.ts';
import type { Task } from '#domain/rearing/task.ts';
import { wishOf } from '#gather/cross-plan.ts';
import { gatherProfiles } from '#gather/profiles.ts';
import type { Book, Change } from '#ports/store.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { type There, whatIsThere } from '../crosses/check-day.ts';
import type { Plan } from '../crosses/plan.ts';
import type { Circumstances } from '../mechanism/action.ts';
import { cancelling, recount } from './recount.ts';
import { sideOf } from './task-sides.ts';

/** Where the colony a queen heads stands today. */
async function yardOfQueen(book: Book, queen: RecordId | null | undefined): Promise<RecordId | null> {
  if (queen == null) return null;
  const stays = await book.find('stay', { queen, to_latest: null, to_earliest: null });
  const colony = stays.find((stay) => stay.colony !== null)?.colony;
  if (colony === undefined || colony === null) return null;
  const places = await book.find('colony_place', { colony, stood_to: null });
  return places.at(-1)?.yard ?? null;
}

type Told = Pick<Circumstances, 'book' | 'newId' | 'happened'> & { day: Day };

/** A task is not written when its day is past and it needs no doing: its side is there, or all this is written down afterwards. */
const leftOut =
  ({ day, happened }: Told, there: There) =>
  ({ key, to }: Task): boolean => {
    if (to >= day) return false;
    const side = sideOf(key);
    return happened || (side === 'drones' && there.drones) || (side === 'queens' && there.queens);
  };

/**
 * The changes that bring the tasks of a cross to its plan. Without a day, open tasks are cancelled. Once queens of it are
 * inseminated, the care after it is counted from what is seen in the nucs and left alone here.
 */
export async function tasksFor(plan: Plan, id: RecordId, told: Told): Promise<Change[]> {
  const { book, newId } = told;
  const rows = await book.find('task', { cross: id });
  const wish = wishOf(plan.cross, await gatherProfiles(book));
  if (wish === null) return rows.flatMap(cancelling);
  const inseminated = (await book.count('insemination', { cross: id, done: 1 })) > 0;
  const droneYard = await yardOfQueen(book, plan.sources[0]?.queen);
  const damYard = await yardOfQueen(book, plan.dams[0]);
  return recount({
    cross: id,
    rows,
    tasks: countBack(wish),
    isLeftOut: leftOut(told, await whatIsThere(book, plan, wish)),
    isSettled: (key) => inseminated && sideOf(key) === 'care',
    yardOf: (key) => {
      if (sideOf(key) === 'drones') return droneYard;
      return key === 'graft' ? damYard : null;
    },
    newId,
  });
}
