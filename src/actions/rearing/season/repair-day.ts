import { z } from 'zod';
import type { Change } from '#ports/store.ts';
import { dayShape, idShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import { daysBetween } from '#units/calendar-day.ts';
import { type Problem, refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { isBarred } from '../../crosses/check-plan.ts';
import { namedBy } from '../../crosses/plan.ts';
import type { WrittenPlan } from '../../crosses/read-plan.ts';
import { action, type Circumstances, type Written } from '../../mechanism/action.ts';
import { creating, dropping, setting } from '../../mechanism/recording.ts';
import { tasksFor } from '../cross-tasks.ts';
import { crossesOfDay } from './crosses-of-day.ts';
import { movedDay } from './move-insemination-day.ts';
import { giveUpCombs, tasksOfBar } from './planned-tasks.ts';

const repairShape = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('graft-more'), dam: idShape, larvae: z.int().min(1).max(1_000), day: dayShape }),
  z.strictObject({ kind: z.literal('other-drones'), instead: idShape, mother: idShape }),
  z.strictObject({ kind: z.literal('move-day'), to: dayShape }),
  z.strictObject({ kind: z.literal('fewer-queens'), dam: idShape.nullable(), queens: z.int().min(1).max(10_000) }),
]);
type Repair = z.infer<typeof repairShape>;
type Kind<K extends Repair['kind']> = Extract<Repair, { kind: K }>;
type Mended = { changes: Change[]; problems: Problem[] };

const served = (plans: readonly WrittenPlan[], dam: RecordId) => plans.filter(({ plan }) => plan.dams.includes(dam));
const refusedBy = (problem: Problem): Mended => ({ changes: [], problems: [problem] });

/** One more bar of the dam, in reserve for her crosses of the day: it promises no queens beyond those wanted already. */
async function graftMore(
  plans: readonly WrittenPlan[],
  { dam, larvae, day }: Kind<'graft-more'>,
  told: Circumstances,
): Promise<Mended> {
  const crosses = served(plans, dam);
  if (crosses.length === 0) return refusedBy(refuse('repair.dam', 'not-of-that-day'));
  if (day < told.day)
    return refusedBy(refuse('repair.day', 'planned-in-past', { day, ago: daysBetween(day, told.day) }));
  const id = told.newId();
  return {
    problems: [],
    changes: [
      creating('planned_graft', id, { dam, day, larvae }),
      ...crosses.map(({ row }) =>
        creating('planned_graft_use', told.newId(), { planned_graft: id, cross: row.id, queens: 0 }),
      ),
      ...(await tasksOfBar(
        { id, dam, day },
        null,
        told,
        crosses.map(({ row }) => row.id),
      )),
    ],
  };
}

const isOf = (one: Row<'planned_comb'>, mother: RecordId) =>
  one.mother === mother || one.sister_group === mother || one.line === mother;

/** Combs of a mother are no longer for these crosses; those that were for no other are given up, and stay theirs as such. */
async function combsLeft(crosses: ReadonlySet<RecordId>, mother: RecordId, { book }: Circumstances): Promise<Change[]> {
  const uses = await book.find('planned_comb_use', { cross: [...crosses] });
  const combs = await book.find('planned_comb', { id: uses.map(({ planned_comb }) => planned_comb), cancelled: null });
  const changes: Change[] = [];
  for (const comb of combs.filter((one) => isOf(one, mother))) {
    const all = await book.find('planned_comb_use', { planned_comb: comb.id });
    const isTheirsAlone = all.every(({ cross }) => crosses.has(cross));
    if (isTheirsAlone && comb.drone_comb === null) changes.push(...(await giveUpCombs(book, comb)));
    else
      changes.push(...all.filter(({ cross }) => crosses.has(cross)).map(({ id }) => dropping('planned_comb_use', id)));
  }
  return changes;
}

async function otherDrones(
  plans: readonly WrittenPlan[],
  { instead, mother }: Kind<'other-drones'>,
  told: Circumstances,
): Promise<Mended> {
  const using = plans.filter(({ sources }) => sources.some((source) => namedBy(source) === instead));
  if (using.length === 0) return refusedBy(refuse('repair.instead', 'not-of-that-day'));
  const changes = using.flatMap(({ sources }): Change[] => {
    const old = sources.find((source) => namedBy(source) === instead);
    const there = sources.find((source) => namedBy(source) === mother);
    if (old === undefined) return [];
    if (there === undefined)
      return [setting('cross_drone_source', old.id, { queen: mother, sister_group: null, line: null })];
    const share = old.share === null || there.share === null ? null : old.share + there.share;
    return [dropping('cross_drone_source', old.id), setting('cross_drone_source', there.id, { share })];
  });
  const crosses = new Set(using.map(({ row }) => row.id));
  return { changes: [...changes, ...(await combsLeft(crosses, instead, told))], problems: [] };
}

/** Whole queens in the proportion of what is wanted, at least one each; largest remainders first. */
export function shareOut(wanted: readonly number[], queens: number): number[] {
  const whole = wanted.reduce((sum, n) => sum + n, 0);
  const exact = wanted.map((n) => (queens * n) / whole);
  const shares = exact.map((n) => Math.max(1, Math.floor(n)));
  const order = exact.map((n, i) => ({ i, rest: n - Math.floor(n) })).sort((a, b) => b.rest - a.rest);
  let left = queens - shares.reduce((sum, n) => sum + n, 0);
  for (const { i } of order) {
    if (left <= 0) break;
    shares[i] = (shares[i] ?? 0) + 1;
    left--;
  }
  return shares;
}

async function fewerQueens(
  plans: readonly WrittenPlan[],
  { dam, queens }: Kind<'fewer-queens'>,
  told: Circumstances,
): Promise<Mended> {
  const crosses = dam === null ? plans : served(plans, dam);
  if (crosses.length === 0) return refusedBy(refuse('repair.dam', 'not-of-that-day'));
  const shares = shareOut(
    crosses.map(({ row }) => row.queens_wanted),
    queens,
  );
  const changes: Change[] = [];
  for (const [i, { plan, row }] of crosses.entries()) {
    const queens_wanted = shares[i] ?? row.queens_wanted;
    const after = { ...plan, cross: { ...plan.cross, queens_wanted } };
    changes.push(setting('cross', row.id, { queens_wanted }), ...(await tasksFor(after, row.id, told)));
  }
  return { changes, problems: [] };
}

async function mend(plans: readonly WrittenPlan[], repair: Repair, told: Circumstances): Promise<Mended> {
  if (repair.kind === 'graft-more') return graftMore(plans, repair, told);
  if (repair.kind === 'other-drones') return otherDrones(plans, repair, told);
  if (repair.kind === 'fewer-queens') return fewerQueens(plans, repair, told);
  return movedDay(plans, { to: repair.to, along: false }, told);
}

/** Mends an insemination day that is in doubt, as one act: another graft, other drones, a later day, or fewer queens. */
export const repairDay = action({
  name: 'repair-day',
  place: 'rearing',
  what: 'Mend an insemination day in doubt: graft more, use other drones, move the day, or do fewer queens.',
  input: z.strictObject({ on: dayShape, repair: repairShape }),
  async run({ on, repair }, circumstances): Promise<Written<{ crosses: RecordId[] }>> {
    const none = { changes: [], result: { crosses: [] } };
    const plans = await crossesOfDay(circumstances.book, on);
    if (plans.length === 0) return { ...none, problems: [refuse('on', 'no-cross-on-day', { day: on })] };
    const { changes, problems } = await mend(plans, repair, circumstances);
    if (isBarred(problems, circumstances)) return { ...none, problems };
    return { changes, result: { crosses: plans.map(({ row }) => row.id) }, problems };
  },
});
