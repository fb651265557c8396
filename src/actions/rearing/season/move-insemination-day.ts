import { z } from 'zod';
import type { Change } from '#ports/store.ts';
import { dayShape } from '#records/field.ts';
import { type Day, daysBetween } from '#units/calendar-day.ts';
import { type Problem, refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { isBarred, newProblems, planProblems } from '../../crosses/check-plan.ts';
import type { WrittenPlan } from '../../crosses/read-plan.ts';
import { action, type Circumstances, type Written } from '../../mechanism/action.ts';
import { setting } from '../../mechanism/recording.ts';
import { tasksFor } from '../cross-tasks.ts';
import { crossesOfDay } from './crosses-of-day.ts';
import { raisingMoved } from './raising-along.ts';

type Moving = { to: Day; along: boolean };

/** The changes and doubts of moving the crosses of a day to another. */
export async function movedDay(
  plans: readonly WrittenPlan[],
  { to, along }: Moving,
  circumstances: Circumstances,
): Promise<{ changes: Change[]; problems: Problem[] }> {
  const changes: Change[] = [];
  const problems: Problem[] = [];
  for (const written of plans) {
    const after = { ...written.plan, cross: { ...written.plan.cross, inseminate_on: to } };
    const before = await planProblems(circumstances.book, written.plan, circumstances);
    // Raised bars and combs decide whether the day can be reached; they stand in the book already.
    const said = await planProblems(
      circumstances.book,
      { ...after, dronesThere: true, virginsThere: true },
      circumstances,
    );
    problems.push(...newProblems(before, said));
    changes.push(setting('cross', written.row.id, { inseminate_on: to }));
    changes.push(...(await tasksFor(after, written.row.id, circumstances)));
  }
  const [first] = plans;
  const from = first?.row.inseminate_on;
  if (along && from != null) {
    const crosses = new Set(plans.map(({ row }) => row.id));
    const days = daysBetween(from, to);
    changes.push(...(await raisingMoved(crosses, { queens: days, drones: days }, circumstances)));
  }
  return { changes, problems };
}

/** Moves an insemination day with all its crosses; bars and combs that are theirs alone and have not begun go along. */
export const moveInseminationDay = action({
  name: 'move-insemination-day',
  place: 'rearing',
  what: 'Move an insemination day with all its crosses, and the bars and combs that are theirs alone.',
  input: z.strictObject({ on: dayShape, to: dayShape }),
  async run({ on, to }, circumstances): Promise<Written<{ crosses: RecordId[] }>> {
    const none = { changes: [], result: { crosses: [] } };
    const plans = await crossesOfDay(circumstances.book, on);
    if (plans.length === 0) return { ...none, problems: [refuse('on', 'no-cross-on-day', { day: on })] };
    const { changes, problems } = await movedDay(plans, { to, along: true }, circumstances);
    if (isBarred(problems, circumstances)) return { ...none, problems };
    return { changes, result: { crosses: plans.map(({ row }) => row.id) }, problems };
  },
});
