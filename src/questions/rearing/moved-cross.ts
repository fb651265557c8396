import { z } from 'zod';
import type { CrossOutlook, RaisingFacts } from '#domain/rearing/chances/raising-chances.ts';
import { countBack } from '#domain/rearing/count-back.ts';
import { asRaised } from '#domain/rearing/reality/as-raised.ts';
import { type RaisingShift, raisingShift } from '#domain/rearing/reality/raising-shift.ts';
import type { Instead } from '#domain/rearing/reality/what-instead.ts';
import { sideOf } from '#domain/rearing/task-sides.ts';
import { refusalsOf, type Wish } from '#domain/rearing/wish.ts';
import { wishOf } from '#gather/cross-plan.ts';
import { goingAlong } from '#gather/planned-raising.ts';
import { gatherProfiles } from '#gather/profiles.ts';
import { raisedFor } from '#gather/raised-so-far.ts';
import type { Facts } from '#ports/store.ts';
import { dayShape, idShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import { addDays, type Day } from '#units/calendar-day.ts';
import type { Problem } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { type Question, question } from '../mechanism/question.ts';
import { isWork } from '../today/task-line.ts';
import { gatherInstead } from './gather-instead.ts';
import { planWarnings, standing } from './plan-warnings.ts';
import { type GatheredFacts, gatherRaisingFacts, raisingFactReads } from './raising-facts.ts';

const age = z.int().nullable().optional();
const input = z.strictObject({
  cross: idShape,
  today: dayShape,
  /** What of the cross would be otherwise. */
  set: z.strictObject({
    inseminate_on: dayShape,
    queen_age: age,
    drone_age_from: age,
    drone_age_to: age,
    hold_days: age,
  }),
});

/** An open task after a move: late already then, or not. */
export type LateTask = { key: string; from: Day; to: Day };

/** A bar or comb that stays where it is whatever the day: it has happened, or another cross shares it. */
export type Staying = { side: 'queens' | 'drones'; name: string; why: 'raised' | 'shared'; crosses: string[] };

/** What a move would do to a cross, beside how it is. */
export type MovedCross = {
  before: CrossOutlook;
  after: CrossOutlook;
  /** Bars and combs of the plan that go along. */
  along: { bars: number; combs: number };
  tasks: { moved: number; lateBefore: number; late: LateTask[] };
  staying: Staying[];
  warnings: Problem[];
  /** What can be done about it where the new day is too near. */
  instead: Instead | null;
};

type Gathered = Omit<MovedCross, 'before' | 'after'> & { before: RaisingFacts; after: RaisingFacts };

/** How sure a link is before it is called the one that gives first. */
const SURE = 0.9;

type Span = { from: Day; to: Day };
type Moved = { row: Row<'task'>; to: Span };

const open = ({ done_on, cancelled }: Row<'task'>) => done_on === null && cancelled !== 1;
const spanOf = ({ span_from, span_to }: Row<'task'>): Span => ({ from: span_from, to: span_to });
const shifted = ({ from, to }: Span, days: number): Span => ({ from: addDays(from, days), to: addDays(to, days) });

/** Open tasks of the cross itself, where the new days put them; once queens are inseminated the care after it is counted in the nucs. */
async function ownTasks(facts: Facts, cross: RecordId, after: Wish): Promise<Moved[]> {
  const inseminated = (await facts.count('insemination', { cross, done: 1 })) > 0;
  const raised = await raisedFor(facts, cross);
  const counted = new Map<string, Span>(
    asRaised(countBack(after), raised, after.profile).map((task) => [task.key, task]),
  );
  return (await facts.find('task', { cross })).filter(open).map((row) => {
    const span = inseminated && sideOf(row.key) === 'care' ? undefined : counted.get(row.key);
    return { row, to: span === undefined ? spanOf(row) : shifted(span, row.by_hand ?? 0) };
  });
}

type Along = Awaited<ReturnType<typeof goingAlong>>;

/** Open tasks of bars and combs planned for the cross; those that go along keep their distance. */
async function plannedTasks(facts: Facts, cross: RecordId, shift: RaisingShift, along: Along): Promise<Moved[]> {
  const bars = (await facts.find('planned_graft_use', { cross })).map(({ planned_graft }) => planned_graft);
  const combs = (await facts.find('planned_comb_use', { cross })).map(({ planned_comb }) => planned_comb);
  const days = new Map<RecordId, number>([
    ...along.bars.map(({ id }) => [id, shift.queens] as const),
    ...along.combs.map(({ id }) => [id, shift.drones] as const),
  ]);
  const rows = [
    ...(await facts.find('task', { planned_graft: bars })),
    ...(await facts.find('task', { planned_comb: combs })),
  ];
  return rows.filter(open).map((row) => {
    const by = days.get((row.planned_graft ?? row.planned_comb) as RecordId) ?? 0;
    return { row, to: shifted(spanOf(row), by) };
  });
}

function tasksMoved(tasks: readonly Moved[], today: Day): MovedCross['tasks'] {
  const work = tasks.filter(({ row }) => isWork(row.key));
  return {
    moved: tasks.filter(({ row, to }) => row.span_from !== to.from || row.span_to !== to.to).length,
    lateBefore: work.filter(({ row }) => row.span_to < today).length,
    late: work
      .filter(({ to }) => to.to < today)
      .map(({ row, to }) => ({ key: row.key, ...to }))
      .sort((a, b) => (a.from < b.from ? -1 : 1)),
  };
}

/** What stays: raised already, or planned for another cross as well. */
async function stayingOf(facts: Facts, cross: RecordId, { mine, raised }: GatheredFacts): Promise<Staying[]> {
  const codes = new Map((await facts.find('cross')).map(({ id, code }) => [id, code]));
  const barUses = await facts.find('planned_graft_use');
  const combUses = await facts.find('planned_comb_use');
  const mineOf = <T extends { cross: RecordId }>(uses: readonly T[], of: (use: T) => RecordId) =>
    uses.filter((use) => use.cross === cross).map(of);
  const bars = await facts.find('planned_graft', {
    id: mineOf(barUses, ({ planned_graft }) => planned_graft),
    graft: null,
    cancelled: null,
  });
  const combs = await facts.find('planned_comb', {
    id: mineOf(combUses, ({ planned_comb }) => planned_comb),
    drone_comb: null,
    cancelled: null,
  });
  const others = (ids: readonly RecordId[]) =>
    [...new Set(ids.filter((id) => id !== cross))].map((id) => codes.get(id) ?? '');
  return [
    ...mine.bars.map(({ code }): Staying => ({ side: 'queens', name: code, why: 'raised', crosses: [] })),
    ...mine.combs.map(({ code }): Staying => ({ side: 'drones', name: code, why: 'raised', crosses: [] })),
    ...bars.flatMap(({ id, dam }): Staying[] => {
      const crosses = others(barUses.filter((use) => use.planned_graft === id).map((use) => use.cross));
      return crosses.length === 0 ? [] : [{ side: 'queens', name: raised.called(dam), why: 'shared', crosses }];
    }),
    ...combs.flatMap(({ id, mother, sister_group, line }): Staying[] => {
      const crosses = others(combUses.filter((use) => use.planned_comb === id).map((use) => use.cross));
      const name = raised.called(mother ?? sister_group ?? line ?? '');
      return crosses.length === 0 ? [] : [{ side: 'drones', name, why: 'shared', crosses }];
    }),
  ];
}

/** What moving the day or an age of a cross would do, before it is kept. `null`: no such cross, no day yet, or a move that cannot be. */
export const movedCross: Question<z.infer<typeof input>, Gathered | null, MovedCross | null> = question({
  name: 'moved-cross',
  what: 'What moving the day or an age of a cross would do: chances, what gives first, tasks moved and late, what stays.',
  input,
  reads: [...raisingFactReads, 'insemination'],
  async gather({ cross: id, today, set }, facts) {
    const cross = await facts.get('cross', id);
    if (cross === null) return null;
    const profiles = await gatherProfiles(facts);
    const given = Object.fromEntries(Object.entries(set).filter(([, value]) => value !== undefined));
    const moved: Row<'cross'> = { ...cross, ...given };
    const [was, wish] = [wishOf(cross, profiles), wishOf(moved, profiles)];
    if (was === null || wish === null || refusalsOf(wish).length > 0) return null;
    const shift = raisingShift(was, wish);
    const before = await gatherRaisingFacts(facts, { cross, today, sure: SURE });
    const after = await gatherRaisingFacts(facts, { cross: moved, today, sure: SURE, shift });
    if (before === null || after === null) return null;
    const along = await goingAlong(facts, new Set([id]), shift, today);
    const tasks = [...(await ownTasks(facts, id, wish)), ...(await plannedTasks(facts, id, shift, along))];
    const { bars, combs } = after.mine;
    const done = new Set(
      (await facts.find('task', { cross: id })).flatMap((row) => (row.done_on === null ? [] : row.key)),
    );
    const warnings = standing(planWarnings(wish, today), { combs: combs.length, bars: bars.length, done });
    return {
      before: before.facts,
      after: after.facts,
      along: { bars: along.bars.length, combs: along.combs.length },
      tasks: tasksMoved(tasks, today),
      staying: await stayingOf(facts, id, before),
      warnings,
      instead: await gatherInstead(facts, { cross: moved, wish, today, called: after.raised.called, warnings }),
    };
  },
  async answer(gathered, _, compute) {
    if (gathered === null) return null;
    const { before, after, ...rest } = gathered;
    const [was, is] = await compute.run<[CrossOutlook, CrossOutlook]>('cross-outlooks', [before, after]);
    return { before: was, after: is, ...rest };
  },
});
