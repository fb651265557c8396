import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';

/** The kinds it is known from which tasks are for which cross. */
export const taskOfCrossReads = [
  'task',
  'planned_graft_use',
  'planned_comb_use',
] as const satisfies readonly KindName[];

/** Every task by the crosses it is for: its own, and those of planned bars and combs that serve it, which several crosses may share. */
export async function tasksOfCrosses(facts: Facts): Promise<ReadonlyMap<RecordId, Row<'task'>[]>> {
  const bars = groupBy(await facts.find('planned_graft_use'), (use) => use.planned_graft);
  const combs = groupBy(await facts.find('planned_comb_use'), (use) => use.planned_comb);
  const servedBy = ({ planned_graft, planned_comb }: Row<'task'>): readonly { cross: RecordId }[] =>
    (planned_graft === null ? null : bars.get(planned_graft)) ??
    (planned_comb === null ? null : combs.get(planned_comb)) ??
    [];
  const tasks = new Map<RecordId, Row<'task'>[]>();
  for (const task of await facts.find('task')) {
    const crosses = task.cross === null ? servedBy(task).map(({ cross }) => cross) : [task.cross];
    for (const cross of crosses) {
      const known = tasks.get(cross);
      if (known === undefined) tasks.set(cross, [task]);
      else known.push(task);
    }
  }
  return tasks;
}
