import { crossReads } from '#gather/cross-plan.ts';
import { gatherNames, nameReads } from '#gather/names.ts';
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
] as const satisfies readonly KindName[];

const DRONE_SIDE = new Set(['drone-comb-in', 'drone-eggs', 'drone-egg-check', 'drone-brood-out', 'drones-emerge']);
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

type Context = {
  today: Day;
  crosses: ReadonlyMap<RecordId, Row<'cross'>>;
  sides: (cross: RecordId) => Sides;
  called: (id: string) => string;
  yardNames: ReadonlyMap<RecordId, string>;
  /** The one yard the inseminated queens of a cross stand in; nothing when they stand in several. */
  nucYard: (cross: RecordId) => RecordId | null;
};

function whoOf(task: Row<'task'>, { sides, called }: Context): string[] {
  if (task.cross === null) return [];
  const { dams, drones } = sides(task.cross);
  if (DRONE_SIDE.has(task.key)) return drones.map(called);
  return QUEEN_SIDE.has(task.key) ? dams.map(called) : [];
}

function lineOf(task: Row<'task'>, context: Context): TaskLine {
  const inNucs = task.cross !== null && IN_NUCS.has(task.key) ? context.nucYard(task.cross) : null;
  const yard = task.yard ?? inNucs;
  return taskLine(task, {
    cross: task.cross === null ? undefined : context.crosses.get(task.cross),
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
  const tasks = await facts.find('task', cross === undefined ? {} : { cross });
  return tasks.map((task) => lineOf(task, context)).sort((a, b) => (a.from < b.from ? -1 : Number(a.from > b.from)));
}
