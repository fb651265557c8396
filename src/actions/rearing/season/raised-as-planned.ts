import type { RaisedSoFar } from '#domain/rearing/reality/as-raised.ts';
import { combSeen, raisedFor } from '#gather/raised-so-far.ts';
import type { Change } from '#ports/store.ts';
import type { Row } from '#records/kinds.ts';
import { addDays, type Day, daysBetween } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { readPlan } from '../../crosses/read-plan.ts';
import type { Circumstances } from '../../mechanism/action.ts';
import { setting } from '../../mechanism/recording.ts';
import { tasksFor } from '../cross-tasks.ts';
import { plannedProfile, tasksOfBar, tasksOfCombs } from './planned-tasks.ts';

/** A bar grafted, or a comb hung in, within so many days of a planned one is that one. */
const IS_THAT_ONE = 5;

const nearest = <T>(items: readonly T[], dayOf: (item: T) => Day, on: Day): T | undefined =>
  items
    .filter((item) => Math.abs(daysBetween(dayOf(item), on)) <= IS_THAT_ONE)
    .sort((a, b) => Math.abs(daysBetween(dayOf(a), on)) - Math.abs(daysBetween(dayOf(b), on)))[0];

/** Only moves of tasks that stand: nothing new is written because something was raised. */
const moves = (changes: readonly Change[]): Change[] => changes.filter((change) => 'set' in change);

/** Tasks of a cross after a bar or a comb was written down for it alone. */
async function movedOfCross(cross: RecordId, circumstances: Circumstances, added: RaisedSoFar): Promise<Change[]> {
  const written = await readPlan(circumstances.book, cross);
  if (written === null || written.row.cancelled === 1) return [];
  const known = await raisedFor(circumstances.book, cross);
  const raised = { grafted: [...known.grafted, ...added.grafted], combs: [...known.combs, ...added.combs] };
  return moves(await tasksFor(written.plan, cross, { ...circumstances, raised }));
}

type GraftedBar = { id: RecordId; day: Day; dams: readonly RecordId[]; cross: RecordId | null };

/** What a graft changes of the plan: the planned bars it is, done as far as it goes, and what follows from it, moved to where its day puts it. */
export async function barAsPlanned(
  { id, day, dams, cross }: GraftedBar,
  circumstances: Circumstances,
): Promise<Change[]> {
  const { book } = circumstances;
  const changes: Change[] = [];
  for (const dam of new Set(dams)) {
    const planned = await book.find('planned_graft', { dam, graft: null, cancelled: null });
    const bar = nearest(planned, (one) => one.day, day);
    if (bar === undefined) continue;
    const done = await book.find('task', { planned_graft: bar.id, key: ['starter', 'graft'], done_on: null });
    changes.push(setting('planned_graft', bar.id, { graft: id }));
    changes.push(...moves(await tasksOfBar(bar, day, circumstances)));
    changes.push(...done.map((task) => setting('task', task.id, { done_on: day })));
  }
  if (cross !== null) changes.push(...(await movedOfCross(cross, circumstances, { grafted: [day], combs: [] })));
  return changes;
}

const motherOf = (book: Circumstances['book'], mother: RecordId) => book.get('queen', mother);

/** Planned combs of a mother: those that name her, her line or her sister group. */
async function plannedFor(book: Circumstances['book'], mother: RecordId): Promise<Row<'planned_comb'>[]> {
  const queen = await motherOf(book, mother);
  const open = await book.find('planned_comb', { drone_comb: null, cancelled: null });
  return open.filter(
    (one) =>
      one.mother === mother ||
      (one.line !== null && one.line === queen?.line) ||
      (one.sister_group !== null && one.sister_group === queen?.sister_group),
  );
}

const DONE_BY: readonly (readonly [
  field: 'in_on' | 'laid_from' | 'emerged_from' | 'holder',
  keys: readonly string[],
])[] = [
  ['in_on', ['drone-comb-in']],
  ['laid_from', ['drone-eggs', 'drone-egg-check']],
  ['holder', ['drone-brood-out']],
  ['emerged_from', ['drones-emerge']],
];

/** What a drone comb changes of the plan, as it is known now: the planned comb it is, what of it is done, and what follows, moved by what was seen. */
export async function combAsPlanned(comb: Row<'drone_comb'>, circumstances: Circumstances): Promise<Change[]> {
  const { book, day } = circumstances;
  const profile = await plannedProfile(book, comb.cross === null ? [] : [comb.cross]);
  const seen = combSeen(comb);
  const hung = comb.in_on ?? (seen.laid === null ? null : addDays(seen.laid.from, -profile.timings.combLead.value));
  const [linked] = await book.find('planned_comb', { drone_comb: comb.id });
  const open = comb.mother === null || hung === null ? [] : await plannedFor(book, comb.mother);
  const planned = linked ?? (hung === null ? undefined : nearest(open, (one) => one.in_on, hung));
  const changes: Change[] = [];
  if (planned !== undefined) {
    const keys = DONE_BY.flatMap(([field, all]) => (comb[field] === null ? [] : all));
    const done = await book.find('task', { planned_comb: planned.id, key: keys, done_on: null });
    if (linked === undefined) changes.push(setting('planned_comb', planned.id, { drone_comb: comb.id }));
    changes.push(...moves(await tasksOfCombs(planned, seen, circumstances)));
    changes.push(...done.map((task) => setting('task', task.id, { done_on: comb.laid_from ?? comb.in_on ?? day })));
  }
  if (comb.cross !== null)
    changes.push(...(await movedOfCross(comb.cross, circumstances, { grafted: [], combs: [seen] })));
  return changes;
}

/** Tasks of the planned bars a graft is, of some kinds, done. */
export async function plannedBarDone(
  book: Circumstances['book'],
  { graft, keys, on }: { graft: RecordId; keys: readonly string[]; on: Day },
): Promise<Change[]> {
  const bars = (await book.find('planned_graft', { graft })).map(({ id }) => id);
  const open = await book.find('task', { planned_graft: bars, key: keys, done_on: null, cancelled: null });
  return open.map(({ id }) => setting('task', id, { done_on: on }));
}
