import type { Facts } from '#ports/store.ts';
import type { KindName } from '#records/kinds.ts';
import { type Day, laterOf } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';

/** The kinds it is known from what is planned and late. */
export const lateReads = [
  'cross',
  'insemination',
  'task',
  'planned_graft',
  'planned_graft_use',
  'planned_comb',
  'planned_comb_use',
] as const satisfies readonly KindName[];

/** Crosses still to be inseminated on a day or later, or that have no day yet. */
async function crossesToCome(facts: Facts, today: Day): Promise<ReadonlySet<RecordId>> {
  const done = new Set((await facts.find('insemination', { done: 1 })).map(({ cross }) => cross));
  const open = (await facts.find('cross', { cancelled: null })).filter(
    ({ id, inseminate_on }) => !done.has(id) && (inseminate_on === null || inseminate_on >= today),
  );
  return new Set(open.map(({ id }) => id));
}

/**
 * Bars and combs of the plan that are late on a day: theirs is past, nobody wrote down or ticked that they were begun, and some cross they serve is still to
 * come. Nobody knows whether they were done; they are reckoned as begun on that day, and said to be late.
 */
export async function gatherLate(facts: Facts, today: Day): Promise<ReadonlySet<RecordId>> {
  const open = { cancelled: null } as const;
  const bars = (await facts.find('planned_graft', { graft: null, ...open })).filter(({ day }) => day < today);
  const combs = (await facts.find('planned_comb', { drone_comb: null, ...open })).filter(({ in_on }) => in_on < today);
  if (bars.length === 0 && combs.length === 0) return new Set();
  const [barIds, combIds] = [bars.map(({ id }) => id), combs.map(({ id }) => id)];
  const ticked = new Set(
    [
      ...(await facts.find('task', { planned_graft: barIds, key: 'graft' })),
      ...(await facts.find('task', { planned_comb: combIds, key: 'drone-comb-in' })),
    ].flatMap(({ done_on, planned_graft, planned_comb }) => (done_on === null ? [] : (planned_graft ?? planned_comb))),
  );
  const toCome = await crossesToCome(facts, today);
  const served = new Set([
    ...(await facts.find('planned_graft_use', { planned_graft: barIds })).flatMap((use) =>
      toCome.has(use.cross) ? use.planned_graft : [],
    ),
    ...(await facts.find('planned_comb_use', { planned_comb: combIds })).flatMap((use) =>
      toCome.has(use.cross) ? use.planned_comb : [],
    ),
  ]);
  return new Set([...barIds, ...combIds].filter((id) => served.has(id) && !ticked.has(id)));
}

/** The day something planned is reckoned to begin: as planned, and today at the earliest where it is late. */
export const reckonedOn = (planned: Day, isLate: boolean, today: Day): Day =>
  isLate ? laterOf(planned, today) : planned;
