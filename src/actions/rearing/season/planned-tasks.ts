import type { BiologyProfile } from '#domain/rearing/profile.ts';
import { combTasks, graftTasks } from '#domain/rearing/raising-tasks.ts';
import { asRaised, type CombSeen } from '#domain/rearing/reality/as-raised.ts';
import type { Task } from '#domain/rearing/task.ts';
import { gatherProfiles, profileFor } from '#gather/profiles.ts';
import type { Book, Change } from '#ports/store.ts';
import type { Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { setting } from '../../mechanism/recording.ts';
import { yardOfQueen } from '../cross-tasks.ts';
import { cancelling, recount, type TaskOwner } from '../recount.ts';

/** What a planned thing's tasks are written from besides itself. */
type Told = { book: Book; day: Day; newId: () => RecordId };

const NAMELESS = { profile: null, larva_age_hours: null, brood_celsius: null };

/** The profile something planned is counted with: that of the crosses it serves, the usual one where they have none of their own. */
export async function plannedProfile(book: Book, crosses: readonly RecordId[]): Promise<BiologyProfile> {
  const rows = await book.find('cross', { id: [...new Set(crosses)] });
  const own = rows.find((row) => row.profile !== null || row.larva_age_hours !== null || row.brood_celsius !== null);
  return profileFor(own ?? NAMELESS, await gatherProfiles(book));
}

const crossesOf = (uses: readonly { cross: RecordId }[]) => uses.map(({ cross }) => cross);

type Owned = {
  owner: TaskOwner;
  rows: readonly Row<'task'>[];
  tasks: readonly Task[];
  yardOf: (key: string) => RecordId | null;
};

const written = ({ owner, rows, tasks, yardOf }: Owned, { day, newId }: Told): Change[] =>
  recount({ owner, rows, tasks, yardOf, newId, isLeftOut: ({ to }) => to < day, isSettled: () => false });

/** Writes or moves the tasks of a planned bar: as planned, or as it was grafted. `crosses`: those it serves, where the book does not say so yet. */
export async function tasksOfBar(
  bar: Pick<Row<'planned_graft'>, 'id' | 'dam' | 'day'>,
  grafted: Day | null,
  told: Told,
  crosses?: readonly RecordId[],
): Promise<Change[]> {
  const uses = crosses ?? crossesOf(await told.book.find('planned_graft_use', { planned_graft: bar.id }));
  const profile = await plannedProfile(told.book, uses);
  const yard = await yardOfQueen(told.book, bar.dam);
  const raised = { grafted: grafted === null ? [] : [grafted], combs: [] };
  return written(
    {
      owner: { planned_graft: bar.id },
      rows: await told.book.find('task', { planned_graft: bar.id }),
      tasks: asRaised(graftTasks(bar.day, profile), raised, profile),
      yardOf: (key) => (key === 'graft' ? yard : null),
    },
    told,
  );
}

/** Writes or moves the tasks of planned drone combs: as planned, or as the comb was seen. */
export async function tasksOfCombs(
  combs: Pick<Row<'planned_comb'>, 'id' | 'mother' | 'in_on'>,
  seen: CombSeen | null,
  told: Told,
  crosses?: readonly RecordId[],
): Promise<Change[]> {
  const uses = crosses ?? crossesOf(await told.book.find('planned_comb_use', { planned_comb: combs.id }));
  const profile = await plannedProfile(told.book, uses);
  const yard = await yardOfQueen(told.book, combs.mother);
  const raised = { grafted: [], combs: seen === null ? [] : [seen] };
  return written(
    {
      owner: { planned_comb: combs.id },
      rows: await told.book.find('task', { planned_comb: combs.id }),
      tasks: asRaised(combTasks(combs.in_on, profile), raised, profile),
      yardOf: () => yard,
    },
    told,
  );
}

/** Takes a planned bar off the plan with its tasks; nothing vanishes. */
export const giveUpBar = async (book: Book, { id }: Pick<Row<'planned_graft'>, 'id'>): Promise<Change[]> => [
  setting('planned_graft', id, { cancelled: 1 }),
  ...(await book.find('task', { planned_graft: id })).flatMap(cancelling),
];

/** Takes planned combs off the plan with their tasks; nothing vanishes. */
export const giveUpCombs = async (book: Book, { id }: Pick<Row<'planned_comb'>, 'id'>): Promise<Change[]> => [
  setting('planned_comb', id, { cancelled: 1 }),
  ...(await book.find('task', { planned_comb: id })).flatMap(cancelling),
];
