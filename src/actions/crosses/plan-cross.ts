import { z } from 'zod';
import { idShape } from '#records/field.ts';
import type { RecordId } from '#units/record-id.ts';
import { action, type Circumstances, type Written } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';
import { tasksFor } from '../rearing/cross-tasks.ts';
import { isBarred, planProblems } from './check-plan.ts';
import { crossFields, crossShape, type Plan, sourceShape, standInShape, thereShape } from './plan.ts';

const input = z.strictObject({
  cross: crossShape,
  /** Mothers of the queens to be inseminated. */
  dams: z.array(idShape).max(100),
  drone_sources: z.array(sourceShape).max(100),
  stand_ins: z.array(standInShape).max(100).optional(),
  ...thereShape,
});
type Input = z.infer<typeof input>;

/** The plan an input asks for. */
export const planOf = (given: Input): Plan => ({
  cross: crossFields(given.cross),
  id: null,
  dams: given.dams,
  sources: given.drone_sources,
  standIns: given.stand_ins ?? [],
  dronesThere: given.drones_there ?? false,
  virginsThere: given.virgins_there ?? false,
});

/** Writes a plan down, with its tasks when it has a day. */
export async function writePlan(plan: Plan, circumstances: Circumstances): Promise<Written<{ id: RecordId }>> {
  const { newId, book, day, happened } = circumstances;
  const id = newId();
  return {
    changes: [
      creating('cross', id, plan.cross),
      ...plan.dams.map((queen) => creating('cross_dam', newId(), { cross: id, queen })),
      ...plan.sources.map((source) => creating('cross_drone_source', newId(), { cross: id, ...source })),
      ...plan.standIns.map((standIn) => creating('cross_stand_in', newId(), { cross: id, ...standIn })),
      ...(await tasksFor(plan, id, { book, newId, day, happened })),
    ],
    result: { id },
  };
}

/** Plans a cross: queen side, drone side, how many and when, stand-ins; its days are counted back in the same act. */
export const planCross = action({
  name: 'plan-cross',
  place: 'crosses',
  what: 'Plan a cross: queen side, drone side, queens wanted, dose, day and stand-ins; its tasks are counted back.',
  input,
  async run(given, circumstances) {
    const plan = planOf(given);
    const problems = await planProblems(circumstances.book, plan, circumstances);
    if (isBarred(problems, circumstances)) return { changes: [], result: null as never, problems };
    return { ...(await writePlan(plan, circumstances)), problems };
  },
});
