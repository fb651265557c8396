import { usableDays } from '#domain/living/usable-window.ts';
import type { AgeWindow, BiologyProfile } from '#domain/rearing/profile.ts';
import type { Wish } from '#domain/rearing/wish.ts';
import { warningsOf } from '#domain/rearing/wish-warnings.ts';
import { wishOf } from '#gather/cross-plan.ts';
import { gatherProfiles } from '#gather/profiles.ts';
import { combDays, graftDays, spanOf } from '#gather/raised.ts';
import type { Facts } from '#ports/store.ts';
import { addDays, type Day, daysBetween } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import { doubt, type Problem } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { atField } from './check-form.ts';
import type { Plan } from './plan.ts';

/** The first insemination day for drones of that age when the comb is hung in today. */
export const earliestForDrones = (today: Day, { timings }: BiologyProfile, youngest: number): Day =>
  addDays(today, timings.combLead.value + timings.droneEggToEmergence.value + youngest);

/** The first insemination day for queens of that age when the starter is made up today. */
export const earliestForQueens = (today: Day, { timings }: BiologyProfile, age: number): Day =>
  addDays(today, timings.starterLead.value + timings.graftToEmergence.value + age);

const isWithin = (on: Day, { from, to }: { from: Day; to: Day }) => from <= on && on <= to;

/** Codes of drone combs of a mother whose drones can be used on the day. */
export async function combsRipeOn(facts: Facts, mother: RecordId, wish: Wish): Promise<string[]> {
  const ages: AgeWindow = wish.profile.drones.hard;
  const combs = await facts.find('drone_comb', { mother });
  return combs.flatMap((comb) => {
    const days = combDays(comb, wish.profile);
    return days !== null && isWithin(wish.inseminate, usableDays(spanOf(days.emerged), ages).some) ? [comb.code] : [];
  });
}

/** Codes of bars with cells of one of the dams whose queens can be used on the day. */
async function barsOfAge(facts: Facts, dams: readonly RecordId[], wish: Wish): Promise<string[]> {
  const bars = new Set((await facts.find('graft_range', { dam: dams })).map(({ graft }) => graft));
  const cells = groupBy(await facts.find('graft_cell', { graft: [...bars] }), ({ graft }) => graft);
  const grafts = await facts.find('graft', { id: [...bars] });
  return grafts.flatMap((graft) => {
    const { emerged } = graftDays(graft, cells.get(graft.id) ?? [], wish.profile);
    const window = usableDays(spanOf(emerged), wish.profile.queens.hard).some;
    return isWithin(wish.inseminate, window) ? [graft.code] : [];
  });
}

/** Which sides need no raising any more: the breeder says so, or the book holds combs or bars that will be of age on the day. */
export type There = { drones: boolean; queens: boolean };

export async function whatIsThere(facts: Facts, plan: Plan, wish: Wish): Promise<There> {
  const mothers = plan.sources.map(({ queen }) => queen ?? null);
  const ripe: boolean[] = [];
  for (const mother of mothers) ripe.push(mother !== null && (await combsRipeOn(facts, mother, wish)).length > 0);
  return {
    drones: plan.dronesThere || (ripe.length > 0 && ripe.every(Boolean)),
    queens: plan.virginsThere || (await barsOfAge(facts, plan.dams, wish)).length > 0,
  };
}

function dronesTooLate(wish: Wish, today: Day): Problem[] {
  const youngest = wish.droneAge?.from ?? wish.profile.usual.droneAge.from;
  const earliest = earliestForDrones(today, wish.profile, youngest);
  if (wish.inseminate >= earliest) return [];
  const laidBy = addDays(wish.inseminate, -youngest - wish.profile.timings.droneEggToEmergence.value);
  const late = daysBetween(wish.inseminate, earliest);
  return [doubt('cross.inseminate_on', 'drones-too-late', { day: wish.inseminate, laidBy, late, earliest })];
}

function queensTooLate(wish: Wish, today: Day): Problem[] {
  const age = wish.queenAge ?? wish.profile.usual.queenAge;
  const graftBy = addDays(wish.inseminate, -age - wish.profile.timings.graftToEmergence.value);
  if (graftBy >= today) return [];
  const earliest = earliestForQueens(today, wish.profile, age);
  const ago = daysBetween(graftBy, today);
  return [doubt('cross.inseminate_on', 'queens-too-late', { day: wish.inseminate, graftBy, ago, earliest })];
}

/** Warnings of the countback that are not said better here. */
const SAID_BETTER = new Set(['day-past', 'day-too-near', 'task-past']);

/**
 * Whether the day can be reached from today: drones and queens must still be raised in time, or be there. What cannot be reached is
 * a doubt: it stops a plan, with the earliest day that works, and lets pass what has happened.
 */
export async function dayProblems(facts: Facts, plan: Plan, today: Day): Promise<Problem[]> {
  const wish = wishOf(plan.cross, await gatherProfiles(facts));
  if (wish === null) return [];
  const about = warningsOf(wish)
    .filter(({ code }) => !SAID_BETTER.has(code))
    .map(atField);
  const ago = daysBetween(wish.inseminate, today);
  if (ago > 0) return [...about, doubt('cross.inseminate_on', 'day-past', { day: wish.inseminate, ago })];
  const there = await whatIsThere(facts, plan, wish);
  return [
    ...about,
    ...(there.drones ? [] : dronesTooLate(wish, today)),
    ...(there.queens ? [] : queensTooLate(wish, today)),
  ];
}
