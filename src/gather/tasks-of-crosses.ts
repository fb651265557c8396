import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import type { RecordId } from '#units/record-id.ts';

/** The kinds it is known from which tasks are for which cross. */
export const taskOfCrossReads = [
  'task',
  'planned_graft_use',
  'planned_comb_use',
] as const satisfies readonly KindName[];

/** Every task by the crosses it is for: its own, and those of planned bars and combs that serve it, which several crosses may share. */
export async function tasksOfCrosses(facts: Facts): Promise<ReadonlyMap<RecordId, Row<'task'>[]>> {
  const served = new Map<RecordId, RecordId[]>();
  const serve = (thing: RecordId, cross: RecordId) => served.set(thing, [...(served.get(thing) ?? []), cross]);
  for (const { planned_graft, cross } of await facts.find('planned_graft_use')) serve(planned_graft, cross);
  for (const { planned_comb, cross } of await facts.find('planned_comb_use')) serve(planned_comb, cross);
  const tasks = new Map<RecordId, Row<'task'>[]>();
  for (const task of await facts.find('task')) {
    const thing = task.planned_graft ?? task.planned_comb;
    const crosses = task.cross !== null ? [task.cross] : thing === null ? [] : (served.get(thing) ?? []);
    for (const cross of crosses) tasks.set(cross, [...(tasks.get(cross) ?? []), task]);
  }
  return tasks;
}
