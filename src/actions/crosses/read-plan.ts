import type { Facts } from '#ports/store.ts';
import type { Row } from '#records/kinds.ts';
import type { RecordId } from '#units/record-id.ts';
import type { Plan } from './plan.ts';

/** The rows a cross is written in, and the plan they make; `null` when there is no such cross. */
export type WrittenPlan = {
  plan: Plan;
  row: Row<'cross'>;
  dams: readonly Row<'cross_dam'>[];
  sources: readonly Row<'cross_drone_source'>[];
  standIns: readonly Row<'cross_stand_in'>[];
};

/** Reads a cross back as the plan it was written from. */
export async function readPlan(facts: Facts, cross: RecordId): Promise<WrittenPlan | null> {
  const row = await facts.get('cross', cross);
  if (row === null) return null;
  const dams = await facts.find('cross_dam', { cross });
  const sources = await facts.find('cross_drone_source', { cross });
  const standIns = await facts.find('cross_stand_in', { cross });
  const { id, cancelled: _, ...fields } = row;
  const plan: Plan = {
    cross: fields,
    id,
    dams: dams.map(({ queen }) => queen),
    sources: sources.map(({ queen, sister_group, line, share }) => ({ queen, sister_group, line, share })),
    standIns: standIns.map(({ queen, side }) => ({ queen, side })),
    dronesThere: false,
    virginsThere: false,
  };
  return { plan, row, dams, sources, standIns };
}
