import { plannedForAlone } from '#gather/planned-raising.ts';
import type { Book, Change } from '#ports/store.ts';
import type { Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { creating, dropping, setting } from '../../mechanism/recording.ts';
import { giveUpBar, giveUpCombs, tasksOfBar, tasksOfCombs } from './planned-tasks.ts';
import type { PlannedUse, SeasonPlan } from './season-plan-input.ts';

/** What is written besides the plan: the book, today, ids, and which cross a use is for by its day. */
export type Writing = {
  book: Book;
  day: Day;
  newId: () => RecordId;
  crossOf: (use: Pick<PlannedUse, 'cross' | 'on'>) => RecordId;
};

type Bar = SeasonPlan['bars'][number];
type Combs = SeasonPlan['combs'][number];

const byDay = <T extends { day: Day }>(a: T, b: T) => (a.day < b.day ? -1 : Number(a.day > b.day));

/** Uses of one cross as one. */
function sums(uses: readonly PlannedUse[], { crossOf }: Writing): Map<RecordId, number> {
  const all = new Map<RecordId, number>();
  for (const use of uses) all.set(crossOf(use), (all.get(crossOf(use)) ?? 0) + use.amount);
  return all;
}

async function writeBar(bar: Bar, known: Row<'planned_graft'> | undefined, writing: Writing): Promise<Change[]> {
  const { book, newId } = writing;
  const id = known?.id ?? newId();
  const fields = { dam: bar.dam, day: bar.day, larvae: bar.larvae };
  const old = known === undefined ? [] : await book.find('planned_graft_use', { planned_graft: id });
  return [
    known === undefined ? creating('planned_graft', id, fields) : setting('planned_graft', id, fields),
    ...old.map((use) => dropping('planned_graft_use', use.id)),
    ...[...sums(bar.uses, writing)].map(([cross, queens]) =>
      creating('planned_graft_use', newId(), { planned_graft: id, cross, queens: Math.round(queens) }),
    ),
    ...(await tasksOfBar(
      { id, ...fields },
      null,
      writing,
      bar.uses.map(({ cross }) => cross),
    )),
  ];
}

type Motherhood = Pick<Row<'planned_comb'>, 'mother' | 'sister_group' | 'line'>;

/** Whether an id names a queen, a sister group or a line, as the field it is written in. */
async function motherhood(book: Book, id: RecordId): Promise<Motherhood> {
  const none: Motherhood = { mother: null, sister_group: null, line: null };
  if ((await book.get('sister_group', id)) !== null) return { ...none, sister_group: id };
  if ((await book.get('line', id)) !== null) return { ...none, line: id };
  return { ...none, mother: id };
}

async function writeCombs(combs: Combs, known: Row<'planned_comb'> | undefined, writing: Writing): Promise<Change[]> {
  const { book, newId } = writing;
  const id = known?.id ?? newId();
  const fields = { ...(await motherhood(book, combs.mother)), in_on: combs.day, combs: combs.combs };
  const old = known === undefined ? [] : await book.find('planned_comb_use', { planned_comb: id });
  return [
    known === undefined ? creating('planned_comb', id, fields) : setting('planned_comb', id, fields),
    ...old.map((use) => dropping('planned_comb_use', use.id)),
    ...[...sums(combs.uses, writing)].map(([cross, part]) =>
      creating('planned_comb_use', newId(), { planned_comb: id, cross, combs: part }),
    ),
    ...(await tasksOfCombs(
      { id, ...fields },
      null,
      writing,
      combs.uses.map(({ cross }) => cross),
    )),
  ];
}

const motherOf = ({ mother, sister_group, line }: Motherhood) => mother ?? sister_group ?? line;

/** Takes the next of those that stand already for the same mother: a bar keeps its tasks and their calendar entries. */
function takeNext<T>(standing: T[], fits: (one: T) => boolean): T | undefined {
  const at = standing.findIndex(fits);
  return at < 0 ? undefined : standing.splice(at, 1)[0];
}

/** What stands planned and not begun for the crosses of a plan and no others, in the order of its days. */
async function standingFor(book: Book, crosses: ReadonlySet<RecordId>) {
  const { bars, combs } = await plannedForAlone(book, crosses);
  return {
    bars: bars.sort(byDay),
    combs: combs.sort((a, b) => (a.in_on < b.in_on ? -1 : 1)),
  };
}

/** Bars and combs that serve other crosses too stay as they are, for those alone: nothing is taken from a cross that is not planned again. */
async function leaveToOthers(
  book: Book,
  crosses: ReadonlySet<RecordId>,
  moved: { bars: readonly Row<'planned_graft'>[]; combs: readonly Row<'planned_comb'>[] },
): Promise<Change[]> {
  const ids = [...crosses];
  const mine = new Set<RecordId>([...moved.bars, ...moved.combs].map(({ id }) => id));
  const barUses = await book.find('planned_graft_use', { cross: ids });
  const combUses = await book.find('planned_comb_use', { cross: ids });
  return [
    ...barUses.filter((use) => !mine.has(use.planned_graft)).map(({ id }) => dropping('planned_graft_use', id)),
    ...combUses.filter((use) => !mine.has(use.planned_comb)).map(({ id }) => dropping('planned_comb_use', id)),
  ];
}

/** The changes that make what is planned for some crosses into the bars and combs of a plan; what is not asked for any more is given up. */
export async function writePlanned(plan: SeasonPlan, crosses: ReadonlySet<RecordId>, writing: Writing) {
  const { bars, combs } = await standingFor(writing.book, crosses);
  const changes = await leaveToOthers(writing.book, crosses, { bars, combs });
  for (const bar of [...plan.bars].sort(byDay))
    changes.push(
      ...(await writeBar(
        bar,
        takeNext(bars, ({ dam }) => dam === bar.dam),
        writing,
      )),
    );
  for (const comb of [...plan.combs].sort(byDay))
    changes.push(
      ...(await writeCombs(
        comb,
        takeNext(combs, (one) => motherOf(one) === comb.mother),
        writing,
      )),
    );
  for (const left of bars) changes.push(...(await giveUpBar(writing.book, left)));
  for (const left of combs) changes.push(...(await giveUpCombs(writing.book, left)));
  return changes;
}

/** Gives up what is planned for these crosses alone and has not begun. */
export async function giveUpForAlone(book: Book, crosses: ReadonlySet<RecordId>): Promise<Change[]> {
  const { bars, combs } = await plannedForAlone(book, crosses);
  const changes: Change[] = [];
  for (const bar of bars) changes.push(...(await giveUpBar(book, bar)));
  for (const comb of combs) changes.push(...(await giveUpCombs(book, comb)));
  return changes;
}
