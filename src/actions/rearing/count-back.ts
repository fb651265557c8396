import { z } from 'zod';
import { wishOf } from '#gather/cross-plan.ts';
import { gatherProfiles } from '#gather/profiles.ts';
import { dayShape, idShape } from '#records/field.ts';
import { refuse } from '#units/problem.ts';
import { isBarred, planProblems } from '../crosses/check-plan.ts';
import { thereShape } from '../crosses/plan.ts';
import { readPlan } from '../crosses/read-plan.ts';
import { action } from '../mechanism/action.ts';
import { setting } from '../mechanism/recording.ts';
import { tasksFor } from './cross-tasks.ts';
import { raisingAlong } from './season/raising-along.ts';

const input = z.strictObject({
  cross: idShape,
  /** The insemination day, when the cross has none yet or gets another. */
  inseminate_on: dayShape.optional(),
  ...thereShape,
});

/** Counts a cross back from its insemination day: its tasks are written, or moved to where the day puts them. */
export const countBackCross = action({
  name: 'count-back',
  place: 'rearing',
  what: 'Count a cross back from its insemination day: write or move its tasks.',
  input,
  async run({ cross, inseminate_on, drones_there, virgins_there }, circumstances) {
    const { book } = circumstances;
    const no = (code: string, values: Record<string, string> = {}) => ({
      changes: [],
      result: null,
      problems: [refuse('cross', code, values)],
    });
    const written = await readPlan(book, cross);
    if (written === null) return no('unknown-record', { kind: 'cross', id: cross });
    if (written.row.cancelled === 1) return no('cross-cancelled', { code: written.row.code });
    const on = inseminate_on ?? written.row.inseminate_on;
    if (on === null) return no('no-day-yet', { code: written.row.code });
    const there = { dronesThere: drones_there ?? false, virginsThere: virgins_there ?? false };
    const plan = { ...written.plan, ...there, cross: { ...written.plan.cross, inseminate_on: on } };
    const problems = await planProblems(book, plan, circumstances);
    if (isBarred(problems, circumstances)) return { changes: [], result: null, problems };
    const moved = on === written.row.inseminate_on ? [] : [setting('cross', cross, { inseminate_on: on })];
    const profiles = await gatherProfiles(book);
    const wishes = { before: wishOf(written.plan.cross, profiles), after: wishOf(plan.cross, profiles) };
    const along = await raisingAlong(cross, wishes, circumstances);
    return {
      changes: [...moved, ...along, ...(await tasksFor(plan, cross, circumstances))],
      result: { id: cross },
      problems,
    };
  },
});
