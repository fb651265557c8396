import { countBack } from '#domain/rearing/count-back.ts';
import { asRaised, type RaisedSoFar } from '#domain/rearing/reality/as-raised.ts';
import type { Task } from '#domain/rearing/task.ts';
import { sideOf, type TaskSide } from '#domain/rearing/task-sides.ts';
import { wishOf } from '#gather/cross-plan.ts';
import { gatherProfiles } from '#gather/profiles.ts';
import { raisedFor } from '#gather/raised-so-far.ts';
import type { Book, Change } from '#ports/store.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { type There, whatIsThere } from '../crosses/check-day.ts';
import type { Plan } from '../crosses/plan.ts';
import type { Circumstances } from '../mechanism/action.ts';
import { cancelling, recount } from './recount.ts';

/** Where the colony a queen heads stands today. */
export async function yardOfQueen(book: Book, queen: RecordId | null | undefined): Promise<RecordId | null> {
  if (queen == null) return null;
  const stays = await book.find('stay', { queen, to_latest: null, to_earliest: null });
  const colony = stays.find((stay) => stay.colony !== null)?.colony;
  if (colony === undefined || colony === null) return null;
  const places = await book.find('colony_place', { colony, stood_to: null });
  return places.at(-1)?.yard ?? null;
}

type Told = Pick<Circumstances, 'book' | 'newId' | 'happened'> & {
  day: Day;
  /** Sides whose tasks a planned bar or comb has, where the act itself decides that; else as the book says. */
  served?: ReadonlySet<TaskSide>;
  /** What has been raised for it with what this act adds; else as the book says. */
  raised?: RaisedSoFar;
};

/** A task is not written when its day is past and it needs no doing: its side is there, or all this is written down afterwards. */
const leftOut =
  ({ day, happened }: Told, there: There) =>
  ({ key, to }: Task): boolean => {
    if (to >= day) return false;
    const side = sideOf(key);
    return happened || (side === 'drones' && there.drones) || (side === 'queens' && there.queens);
  };

/** Sides of a cross that a planned bar or comb has the tasks of: those are counted there, once for all crosses it serves. */
async function servedSides(book: Book, cross: RecordId): Promise<ReadonlySet<TaskSide>> {
  const bars = (await book.find('planned_graft_use', { cross })).map(({ planned_graft }) => planned_graft);
  const combs = (await book.find('planned_comb_use', { cross })).map(({ planned_comb }) => planned_comb);
  const grafted = await book.count('planned_graft', { id: bars, cancelled: null });
  const hung = await book.count('planned_comb', { id: combs, cancelled: null });
  return new Set<TaskSide>([...(grafted > 0 ? ['queens' as const] : []), ...(hung > 0 ? ['drones' as const] : [])]);
}

/**
 * The changes that bring the tasks of a cross to its plan. What has been raised for it stands in the place of what was planned. Without a day, open tasks are cancelled. Once queens of it are
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
  const elsewhere = told.served ?? (await servedSides(book, id));
  const raised = told.raised ?? (await raisedFor(book, id));
  const own = countBack(wish).filter(({ key }) => !elsewhere.has(sideOf(key)));
  return recount({
    owner: { cross: id },
    rows,
    tasks: asRaised(own, raised, wish.profile),
    isLeftOut: leftOut(told, await whatIsThere(book, plan, wish)),
    isSettled: (key) => inseminated && sideOf(key) === 'care',
    yardOf: (key) => {
      if (sideOf(key) === 'drones') return droneYard;
      return key === 'graft' ? damYard : null;
    },
    newId,
  });
}
