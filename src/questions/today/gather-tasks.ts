import { crossReads } from '#gather/cross-plan.ts';
import { gatherNames, nameReads } from '#gather/names.ts';
import { crossesServed } from '#gather/tasks-of-crosses.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { type TaskLine, taskLine } from './task-line.ts';

export const taskReads = [
  ...crossReads,
  ...nameReads,
  'task',
  'yard',
  'stay',
  'colony_place',
  'insemination',
  'planned_graft',
  'planned_graft_use',
  'planned_comb',
  'planned_comb_use',
  'graft',
  'graft_cell',
] as const satisfies readonly KindName[];

const DRONE_SIDE = new Set([
  'drone-comb-in',
  'drone-eggs',
  'drone-egg-check',
  'drone-brood-out',
  'drones-emerge',
  'trial-eversion',
]);
/** Work that is as much as its planned bar or comb is. */
const AMOUNT_OF = new Set(['graft', 'drone-comb-in', 'drone-egg-check']);
const QUEEN_SIDE = new Set(['graft', 'starter']);
const IN_NUCS = new Set([
  'release',
  'release-check',
  'egg-check',
  'egg-check-2',
  'egg-check-3',
  'excluder-off',
  'brood-check',
  'own-workers',
]);

type Sides = { dams: RecordId[]; drones: RecordId[] };

/** Yards in which queens stand, by queen. */
async function yardsOfQueens(facts: Facts): Promise<Map<RecordId, RecordId>> {
  const yardOf = new Map(
    (await facts.find('colony_place', { stood_to: null })).map(({ colony, yard }) => [colony, yard] as const),
  );
  const stays = await facts.find('stay', { to_latest: null, to_earliest: null });
  return new Map(
    stays.flatMap(({ queen, colony }) => {
      const yard = colony === null ? undefined : yardOf.get(colony);
      return yard === undefined ? [] : [[queen, yard] as const];
    }),
  );
}

/** A planned bar or comb: whose it is, how much of it, and which crosses it serves. */
type PlannedThing = {
  who: RecordId | null;
  amount: TaskLine['amount'];
  crosses: readonly RecordId[];
  /** The bar it became. */
  graft: RecordId | null;
};

/** Cells of each bar that are still there to be taken out, once they were counted; and the bars of each cross. */
type BarCells = { cells: ReadonlyMap<RecordId, number>; ofCross: ReadonlyMap<RecordId, RecordId[]> };

async function cellsOfBars(facts: Facts): Promise<BarCells> {
  const grafts = await facts.find('graft');
  const counted = groupBy(
    (await facts.find('graft_cell')).filter(({ accepted }) => accepted !== null),
    ({ graft }) => graft,
  );
  const left = ({ accepted, lost, given_to }: Row<'graft_cell'>) => accepted === 1 && lost !== 1 && given_to === null;
  const ofCross = groupBy(grafts, ({ cross }) => cross);
  return {
    cells: new Map([...counted].map(([graft, all]) => [graft, all.filter(left).length])),
    ofCross: new Map([...ofCross].flatMap(([id, all]) => (id === null ? [] : [[id, all.map((one) => one.id)]]))),
  };
}

/** What is planned of bars and combs, by id. */
async function plannedThings(facts: Facts): Promise<ReadonlyMap<RecordId, PlannedThing>> {
  const served = await crossesServed(facts);
  const crossesOf = (planned: RecordId) => served.get(planned) ?? [];
  const bars = (await facts.find('planned_graft')).map(({ id, dam, larvae, graft }): [RecordId, PlannedThing] => [
    id,
    { who: dam, amount: { what: 'larvae', n: larvae }, crosses: crossesOf(id), graft },
  ]);
  const combs = (await facts.find('planned_comb')).map((comb): [RecordId, PlannedThing] => [
    comb.id,
    {
      who: comb.mother ?? comb.sister_group ?? comb.line,
      amount: { what: 'combs', n: comb.combs },
      crosses: crossesOf(comb.id),
      graft: null,
    },
  ]);
  return new Map([...bars, ...combs]);
}

type Context = {
  today: Day;
  planned: ReadonlyMap<RecordId, PlannedThing>;
  bars: BarCells;
  crosses: ReadonlyMap<RecordId, Row<'cross'>>;
  sides: (cross: RecordId) => Sides;
  called: (id: string) => string;
  yardNames: ReadonlyMap<RecordId, string>;
  /** The one yard the inseminated queens of a cross stand in; nothing when they stand in several. */
  nucYard: (cross: RecordId) => RecordId | null;
};

const plannedOf = ({ planned_graft, planned_comb }: Row<'task'>, { planned }: Context): PlannedThing | undefined => {
  const id = planned_graft ?? planned_comb;
  return id === null ? undefined : planned.get(id);
};

function whoOf(task: Row<'task'>, context: Context): string[] {
  const { sides, called } = context;
  const thing = plannedOf(task, context);
  if (thing !== undefined) return thing.who === null ? [] : [called(thing.who)];
  if (task.cross === null) return [];
  const { dams, drones } = sides(task.cross);
  if (DRONE_SIDE.has(task.key)) return drones.map(called);
  return QUEEN_SIDE.has(task.key) ? dams.map(called) : [];
}

/** Cells to take out of the bars a task is about; nothing where none of them was counted yet. */
function cellsFor(task: Row<'task'>, { bars: { cells, ofCross } }: Context, thing?: PlannedThing): TaskLine['amount'] {
  const own = task.cross === null ? [] : (ofCross.get(task.cross) ?? []);
  const grafts = thing === undefined ? own : [thing.graft].flatMap((one) => one ?? []);
  const counted = grafts.flatMap((graft) => cells.get(graft) ?? []);
  return counted.length === 0 ? null : { what: 'cells', n: counted.reduce((sum, n) => sum + n, 0) };
}

function amountOf(task: Row<'task'>, context: Context, thing?: PlannedThing): TaskLine['amount'] {
  if (task.key === 'cells-out') return cellsFor(task, context, thing);
  return AMOUNT_OF.has(task.key) ? (thing?.amount ?? null) : null;
}

function lineOf(task: Row<'task'>, context: Context): TaskLine {
  const inNucs = task.cross !== null && IN_NUCS.has(task.key) ? context.nucYard(task.cross) : null;
  const yard = task.yard ?? inNucs;
  const thing = plannedOf(task, context);
  const serves = (thing?.crosses ?? []).flatMap((id) => context.crosses.get(id) ?? []);
  const [only] = serves;
  return taskLine(task, {
    cross: task.cross === null ? (serves.length === 1 ? only : undefined) : context.crosses.get(task.cross),
    shared: serves.length > 1 ? serves : [],
    amount: amountOf(task, context, thing),
    who: whoOf(task, context),
    yard: yard === null ? null : (context.yardNames.get(yard) ?? null),
    today: context.today,
  });
}

/** Every task (or those of one cross) as a page lists it, in the order of their days. */
export async function gatherTaskLines(
  facts: Facts,
  { today, cross }: { today: Day; cross?: RecordId },
): Promise<TaskLine[]> {
  const dams = groupBy(await facts.find('cross_dam'), (row) => row.cross);
  const drones = groupBy(await facts.find('cross_drone_source'), (row) => row.cross);
  const yards = await yardsOfQueens(facts);
  const done = groupBy(await facts.find('insemination', { done: 1 }), (row) => row.cross);
  const context: Context = {
    today,
    planned: await plannedThings(facts),
    bars: await cellsOfBars(facts),
    crosses: new Map((await facts.find('cross')).map((row) => [row.id, row])),
    sides: (id) => ({
      dams: (dams.get(id) ?? []).map(({ queen }) => queen),
      drones: (drones.get(id) ?? []).flatMap((row) => row.queen ?? row.sister_group ?? row.line ?? []),
    }),
    called: await gatherNames(facts),
    yardNames: new Map((await facts.find('yard')).map(({ id, name }) => [id, name])),
    nucYard: (id) => {
      const all = new Set((done.get(id) ?? []).flatMap(({ queen }) => yards.get(queen) ?? []));
      return all.size === 1 ? ([...all][0] ?? null) : null;
    },
  };
  const all = await facts.find('task');
  const serves = (task: Row<'task'>) =>
    task.cross === cross || (cross !== undefined && plannedOf(task, context)?.crosses.includes(cross));
  const tasks = cross === undefined ? all : all.filter(serves);
  return tasks.map((task) => lineOf(task, context)).sort((a, b) => (a.from < b.from ? -1 : Number(a.from > b.from)));
}
