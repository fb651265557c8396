import type { RaisedSoFar } from '#domain/rearing/reality/as-raised.ts';
import { itsPlan } from '#domain/rearing/reality/its-plan.ts';
import { gatherLate } from '#gather/late-raising.ts';
import { combSeen, raisedFor } from '#gather/raised-so-far.ts';
import type { Change } from '#ports/store.ts';
import type { Row } from '#records/kinds.ts';
import { addDays, type Day } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { readPlan } from '../../crosses/read-plan.ts';
import type { Circumstances } from '../../mechanism/action.ts';
import { setting } from '../../mechanism/recording.ts';
import { tasksFor } from '../cross-tasks.ts';
import { plannedProfile, tasksOfBar, tasksOfCombs } from './planned-tasks.ts';

type Book = Circumstances['book'];

/** Planned bars or combs that are still open, with the crosses they serve and whether their first task was ticked. */
type Open<T> = { one: T; day: Day; crosses: readonly RecordId[]; isTicked: boolean };

const standing = (
  uses: readonly { cross: RecordId }[] = [],
  tasks: readonly { done_on: Day | null }[] = [],
): Pick<Open<unknown>, 'crosses' | 'isTicked'> => ({
  crosses: uses.map(({ cross }) => cross),
  isTicked: tasks.some(({ done_on }) => done_on !== null),
});

/** The one of them that something raised is; `cross`: the cross named with it, if it has a part in it. */
async function matched<T extends { id: RecordId }>(
  open: readonly Open<T>[],
  { book, on, cross }: { book: Book; on: Day; cross: RecordId | null },
): Promise<T | undefined> {
  const late = await gatherLate(book, on);
  const planned = open.map(({ one, crosses, ...rest }) => ({
    ...rest,
    one,
    isNamed: cross !== null && crosses.includes(cross),
    isLate: late.has(one.id),
  }));
  return itsPlan(planned, { on, isCrossNamed: cross !== null })?.one;
}

async function openBars(book: Book, dam: RecordId): Promise<Open<Row<'planned_graft'>>[]> {
  const bars = await book.find('planned_graft', { dam, graft: null, cancelled: null });
  const ids = bars.map(({ id }) => id);
  const uses = groupBy(await book.find('planned_graft_use', { planned_graft: ids }), (use) => use.planned_graft);
  const tasks = groupBy(await book.find('task', { planned_graft: ids, key: 'graft' }), (task) => task.planned_graft);
  return bars.map((one) => ({ one, day: one.day, ...standing(uses.get(one.id), tasks.get(one.id)) }));
}

/** The cross named with a graft, as far as it speaks for a dam: of a bar of several dams it may name the cross of another. */
async function namedForDam(book: Book, cross: RecordId | null, dam: RecordId): Promise<RecordId | null> {
  return cross !== null && (await book.count('cross_dam', { cross, queen: dam })) > 0 ? cross : null;
}

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
    const named = await namedForDam(book, cross, dam);
    const bar = await matched(await openBars(book, dam), { book, on: day, cross: named });
    if (bar === undefined) continue;
    const done = await book.find('task', { planned_graft: bar.id, key: ['starter', 'graft'], done_on: null });
    changes.push(setting('planned_graft', bar.id, { graft: id }));
    changes.push(...moves(await tasksOfBar(bar, day, circumstances)));
    changes.push(...done.map((task) => setting('task', task.id, { done_on: day })));
  }
  if (cross !== null) changes.push(...(await movedOfCross(cross, circumstances, { grafted: [day], combs: [] })));
  return changes;
}

type OfMother = { mother: RecordId | null; line: RecordId | null; sister_group: RecordId | null };

/** Whether a plan or a cross that names a queen, a line or a sister group means this queen. */
const means = (queen: Row<'queen'>, { mother, line, sister_group }: OfMother): boolean =>
  mother === queen.id ||
  (line !== null && line === queen.line) ||
  (sister_group !== null && sister_group === queen.sister_group);

/** Planned combs of a mother: those that name her, her line or her sister group. */
async function openCombs(book: Book, queen: Row<'queen'>): Promise<Open<Row<'planned_comb'>>[]> {
  const all = await book.find('planned_comb', { drone_comb: null, cancelled: null });
  const combs = all.filter((one) => means(queen, one));
  const ids = combs.map(({ id }) => id);
  const uses = groupBy(await book.find('planned_comb_use', { planned_comb: ids }), (use) => use.planned_comb);
  const ins = await book.find('task', { planned_comb: ids, key: 'drone-comb-in' });
  const tasks = groupBy(ins, (task) => task.planned_comb);
  return combs.map((one) => ({ one, day: one.in_on, ...standing(uses.get(one.id), tasks.get(one.id)) }));
}

/** The planned comb that a comb of a mother, hung in on a day, is. */
async function planOfComb(
  book: Book,
  { mother, cross }: Row<'drone_comb'>,
  hung: Day,
): Promise<Row<'planned_comb'> | undefined> {
  const queen = mother === null ? null : await book.get('queen', mother);
  if (queen === null) return undefined;
  const sources = cross === null ? [] : await book.find('cross_drone_source', { cross });
  const isOfCross = sources.some(({ queen: named, ...rest }) => means(queen, { mother: named, ...rest }));
  return matched(await openCombs(book, queen), { book, on: hung, cross: isOfCross ? cross : null });
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
  const planned = linked ?? (hung === null ? undefined : await planOfComb(book, comb, hung));
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
