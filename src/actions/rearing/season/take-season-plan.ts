import type { Change } from '#ports/store.ts';
import type { Day } from '#units/calendar-day.ts';
import { daysBetween } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import { type Problem, refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { isBarred, newProblems, planProblems } from '../../crosses/check-plan.ts';
import type { Plan } from '../../crosses/plan.ts';
import { readPlan, type WrittenPlan } from '../../crosses/read-plan.ts';
import { action, type Circumstances, type Written } from '../../mechanism/action.ts';
import { creating, setting } from '../../mechanism/recording.ts';
import { tasksFor } from '../cross-tasks.ts';
import { type SeasonPlan, seasonPlanShape } from './season-plan-input.ts';
import { writePlanned } from './write-planned.ts';

type PlannedDay = SeasonPlan['days'][number];

/** Both sides are raised by planned bars and combs: the cross itself has no tasks of theirs. */
const BOTH_SIDES = new Set(['drones', 'queens'] as const);

const daysFields = ({ on, queen_age, drone_age_from, drone_age_to }: PlannedDay) => ({
  inseminate_on: on,
  queen_age,
  drone_age_from,
  drone_age_to,
});

/** A cross, its plan as written, and the days it gets; most queens first. */
type Taken = { written: WrittenPlan; days: readonly PlannedDay[] };

async function begun({ book }: Circumstances, cross: RecordId): Promise<boolean> {
  return (await book.count('graft', { cross })) + (await book.count('insemination', { cross, done: 1 })) > 0;
}

async function readTaken(days: readonly PlannedDay[], circumstances: Circumstances) {
  const problems: Problem[] = [];
  const taken: Taken[] = [];
  for (const [i, [cross, its]] of [...groupBy(days, (one) => one.cross)].entries()) {
    const written = await readPlan(circumstances.book, cross);
    if (written === null) problems.push(refuse(`days.${i}.cross`, 'unknown-record', { kind: 'cross', id: cross }));
    else if (written.row.cancelled === 1)
      problems.push(refuse(`days.${i}.cross`, 'cross-cancelled', { code: written.row.code }));
    else if (await begun(circumstances, cross))
      problems.push(refuse(`days.${i}.cross`, 'cross-begun', { code: written.row.code }));
    else taken.push({ written, days: [...its].sort((a, b) => b.queens - a.queens) });
  }
  return { taken, problems };
}

/** A bar or comb of a day that is past cannot be raised any more. */
function pastProblems({ bars, combs }: SeasonPlan, today: Day): Problem[] {
  const past = (list: 'bars' | 'combs', day: Day, i: number) =>
    day < today ? [refuse(`${list}.${i}.day`, 'planned-in-past', { day, ago: daysBetween(day, today) })] : [];
  return [
    ...bars.flatMap(({ day }, i) => past('bars', day, i)),
    ...combs.flatMap(({ day }, i) => past('combs', day, i)),
  ];
}

/** The cross on its first day: it wants what its other days do not take. */
function onFirstDay({ written, days }: Taken): Plan {
  const [first, ...others] = days;
  const { cross } = written.plan;
  const elsewhere = others.reduce((sum, { queens }) => sum + queens, 0);
  return {
    ...written.plan,
    cross: {
      ...cross,
      ...(first === undefined ? {} : daysFields(first)),
      queens_wanted: Math.max(1, cross.queens_wanted - elsewhere),
    },
  };
}

/** Codes for the parts of a cross that is done on several days: "B, day 2". */
const partCode = (code: string, n: number) => `${code}-${n}`;

type Placed = { changes: Change[]; crossOf: Map<string, RecordId>; all: Set<RecordId> };

const useKey = ({ cross, on }: { cross: RecordId; on: Day }) => `${cross} ${on}`;

/** A cross that does not fit into one day is a cross of its own on each further day, of the same sides. */
async function partOf(taken: Taken, day: PlannedDay, n: number, circumstances: Circumstances) {
  const { newId } = circumstances;
  const { plan } = taken.written;
  const id = newId();
  const cross = { ...plan.cross, ...daysFields(day), code: partCode(plan.cross.code, n), queens_wanted: day.queens };
  const part: Plan = { ...plan, cross };
  return {
    id,
    changes: [
      creating('cross', id, cross),
      ...plan.dams.map((queen) => creating('cross_dam', newId(), { cross: id, queen })),
      ...plan.sources.map((source) => creating('cross_drone_source', newId(), { cross: id, ...source })),
      ...plan.standIns.map((standIn) => creating('cross_stand_in', newId(), { cross: id, ...standIn })),
      ...(await tasksFor(part, id, { ...circumstances, served: BOTH_SIDES })),
    ],
  };
}

async function place(taken: Taken, placed: Placed, circumstances: Circumstances): Promise<void> {
  const { row } = taken.written;
  const after = onFirstDay(taken);
  const { inseminate_on, queen_age, drone_age_from, drone_age_to, queens_wanted } = after.cross;
  const set = { inseminate_on, queen_age, drone_age_from, drone_age_to, queens_wanted };
  placed.changes.push(setting('cross', row.id, set));
  placed.changes.push(...(await tasksFor(after, row.id, { ...circumstances, served: BOTH_SIDES })));
  placed.all.add(row.id);
  for (const [i, day] of taken.days.entries()) {
    if (i === 0) {
      placed.crossOf.set(useKey(day), row.id);
      continue;
    }
    const part = await partOf(taken, day, i + 1, circumstances);
    placed.changes.push(...part.changes);
    placed.crossOf.set(useKey(day), part.id);
  }
}

const refusedBy = (problems: readonly Problem[]): Written<{ crosses: RecordId[] }> => ({
  changes: [],
  result: { crosses: [] },
  problems,
});

/**
 * Takes a plan of the season as one act: crosses move to their days, planned bars and combs are written with their tasks, once for all crosses they serve.
 * What was planned before for these crosses and has not begun is moved, or given up. Stepped back, all is as it was.
 */
export const takeSeasonPlan = action({
  name: 'take-season-plan',
  place: 'rearing',
  what: 'Take a plan of the season: move its crosses to their days and write the bars and drone combs to raise, with their tasks.',
  input: seasonPlanShape,
  async run(plan, circumstances): Promise<Written<{ crosses: RecordId[] }>> {
    const { book, day, newId } = circumstances;
    const { taken, problems } = await readTaken(plan.days, circumstances);
    problems.push(...pastProblems(plan, day));
    if (isBarred(problems, circumstances)) return refusedBy(problems);
    for (const one of taken) {
      const before = await planProblems(book, one.written.plan, circumstances);
      problems.push(...newProblems(before, await planProblems(book, onFirstDay(one), circumstances)));
    }
    if (isBarred(problems, circumstances)) return refusedBy(problems);
    const placed: Placed = { changes: [], crossOf: new Map(), all: new Set() };
    for (const one of taken) await place(one, placed, circumstances);
    const crossOf = (use: { cross: RecordId; on: Day }) => placed.crossOf.get(useKey(use)) ?? use.cross;
    const planned = await writePlanned(plan, placed.all, { book, day, newId, crossOf });
    return { changes: [...placed.changes, ...planned], result: { crosses: [...placed.all] }, problems };
  },
});
