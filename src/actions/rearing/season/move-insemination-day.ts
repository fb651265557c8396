import { z } from 'zod';
import type { Change } from '#ports/store.ts';
import { dayShape } from '#records/field.ts';
import { addDays, type Day, daysBetween } from '#units/calendar-day.ts';
import { type Problem, refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { isBarred, newProblems, planProblems } from '../../crosses/check-plan.ts';
import type { WrittenPlan } from '../../crosses/read-plan.ts';
import { action, type Circumstances, type Written } from '../../mechanism/action.ts';
import { setting } from '../../mechanism/recording.ts';
import { tasksFor } from '../cross-tasks.ts';
import { crossesOfDay, plannedForAlone } from './crosses-of-day.ts';
import { tasksOfBar, tasksOfCombs } from './planned-tasks.ts';

type Moving = { to: Day; along: boolean };

/** Bars and combs that serve these crosses alone go along with their day, as long as they are still to come then. */
async function raisingMoved(
  crosses: ReadonlySet<RecordId>,
  days: number,
  circumstances: Circumstances,
): Promise<Change[]> {
  const { book, day } = circumstances;
  const { bars, combs } = await plannedForAlone(book, crosses);
  const changes: Change[] = [];
  for (const bar of bars) {
    const moved = { ...bar, day: addDays(bar.day, days) };
    if (moved.day < day || bar.day < day) continue;
    changes.push(setting('planned_graft', bar.id, { day: moved.day }));
    changes.push(...(await tasksOfBar(moved, null, circumstances)));
  }
  for (const comb of combs) {
    const moved = { ...comb, in_on: addDays(comb.in_on, days) };
    if (moved.in_on < day || comb.in_on < day) continue;
    changes.push(setting('planned_comb', comb.id, { in_on: moved.in_on }));
    changes.push(...(await tasksOfCombs(moved, null, circumstances)));
  }
  return changes;
}

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
    changes.push(...(await raisingMoved(crosses, daysBetween(from, to), circumstances)));
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
