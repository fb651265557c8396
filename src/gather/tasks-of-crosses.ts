import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import type { RecordId } from '#units/record-id.ts';

/** The kinds it is known from which tasks are for which cross. */
export const taskOfCrossReads = [
  'task',
  'planned_graft_use',
  'planned_comb_use',
] as const satisfies readonly KindName[];

/** The crosses each planned bar and each planned comb serves, by its id; several may share one. */
export async function crossesServed(facts: Facts): Promise<ReadonlyMap<RecordId, readonly RecordId[]>> {
  const served = new Map<RecordId, RecordId[]>();
  const serve = (planned: RecordId, cross: RecordId) => {
    const known = served.get(planned);
    if (known === undefined) served.set(planned, [cross]);
    else known.push(cross);
  };
  for (const { planned_graft, cross } of await facts.find('planned_graft_use')) serve(planned_graft, cross);
  for (const { planned_comb, cross } of await facts.find('planned_comb_use')) serve(planned_comb, cross);
  return served;
}

/** Every task by the crosses it is for: its own, and those of planned bars and combs that serve it, which several crosses may share. */
export async function tasksOfCrosses(facts: Facts): Promise<ReadonlyMap<RecordId, Row<'task'>[]>> {
  const served = await crossesServed(facts);
  const servedBy = ({ planned_graft, planned_comb }: Row<'task'>): readonly RecordId[] => {
    const planned = planned_graft ?? planned_comb;
    return planned === null ? [] : (served.get(planned) ?? []);
  };
  const tasks = new Map<RecordId, Row<'task'>[]>();
  for (const task of await facts.find('task')) {
    const crosses = task.cross === null ? servedBy(task) : [task.cross];
    for (const cross of crosses) {
      const known = tasks.get(cross);
      if (known === undefined) tasks.set(cross, [task]);
      else known.push(task);
    }
  }
  return tasks;
}
