import { addDays, type Day } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { DroneLot } from '../chances/drone-lot.ts';
import { larvaeNeeded, queenShares } from '../chances/queen-losses.ts';
import type { Readiness } from '../chances/readiness.ts';
import type { BiologyProfile } from '../profile.ts';
import { type DayPlan, readinessOn } from '../reality/day-plan.ts';
import type { SeasonFrame } from './season-frame.ts';
import type { CombPlan, PlannedSeason } from './season-plan.ts';

/** One bar to graft: of which dam, when, how many larvae for how many ready queens. */
export type GraftPlan = { dam: number; graft: number; queens: number; larvae: number };

const key = (...parts: number[]) => parts.join('.');

function sumBy<T>(items: readonly T[], keyOf: (item: T) => string, amount: (item: T) => number): Map<string, number> {
  const sums = new Map<string, number>();
  for (const item of items) sums.set(keyOf(item), (sums.get(keyOf(item)) ?? 0) + amount(item));
  return sums;
}

/** The bars of a plan with the exact number of larvae each needs to suffice with the chance wished for. */
export function graftsOf({ placements }: PlannedSeason, frame: SeasonFrame): GraftPlan[] {
  const dam = (cross: number) => frame.damOf[cross] ?? 0;
  const queens = sumBy(
    placements,
    (one) => key(dam(one.cross), one.graft),
    (one) => one.queens,
  );
  const sure = frame.wish.sure ?? 0.9;
  return [...queens].map(([name, wanted]) => {
    const [one = 0, graft = 0] = name.split('.').map(Number);
    const bar = { dam: one, graft };
    return { ...bar, queens: wanted, larvae: larvaeNeeded(wanted, sharesOf(frame, bar, placements), sure) };
  });
}

/** Shares of a bar on the day most of it is wanted: its ages are counted to the earliest of its insemination days. */
function sharesOf(frame: SeasonFrame, bar: { dam: number; graft: number }, placements: PlannedSeason['placements']) {
  const profile = frame.ofDam[bar.dam]?.profile ?? frame.wish.profile;
  const days = placements
    .filter((one) => one.graft === bar.graft && frame.damOf[one.cross] === bar.dam)
    .map(({ day }) => day);
  return queenShares(profile, { daysBefore: Math.min(...days) - bar.graft, ages: profile.queens.hard });
}

/** µl wanted of each mother on each day. */
function semenWanted({ placements }: PlannedSeason, frame: SeasonFrame) {
  return placements.flatMap(({ cross, day, queens }) =>
    (frame.dronesOf[cross] ?? []).map(({ mother, microlitres }) => ({
      mother,
      day,
      microlitres: queens * microlitres,
    })),
  );
}

/** The part of a comb's drones meant for a day; what no day needs is shared out as they need. */
function partFor({ uses }: CombPlan, day: number): number {
  const all = uses.reduce((sum, { combs }) => sum + combs, 0);
  const here = uses.filter((use) => use.day === day).reduce((sum, { combs }) => sum + combs, 0);
  return all === 0 ? 0 : here / all;
}

const dayAt = (frame: SeasonFrame, day: number): Day => addDays(frame.first, day);

/** A profile that is not the one of the season, to stand at what is raised by it. */
const ownOf = (profile: BiologyProfile, { wish }: SeasonFrame) => (profile === wish.profile ? {} : { profile });

/** A planned comb as a lot of cells laid over its useful days, `part` of it. */
function lotOf(comb: CombPlan, part: number, frame: SeasonFrame): DroneLot {
  const profile = frame.ofMother[comb.mother]?.profile ?? frame.wish.profile;
  const laidFrom = dayAt(frame, comb.in + profile.timings.combLead.value);
  const span = profile.usual.droneAge.to - profile.usual.droneAge.from;
  const count = Math.round(comb.count * part * profile.yields.cellsPerComb.value);
  return { counted: 'cells', count, laidFrom, laidTo: addDays(laidFrom, span), ...ownOf(profile, frame) };
}

/** Bars whose queens are wanted on a day; a bar that serves several days must give the queens of all of them. */
function queensOn(
  day: number,
  plan: PlannedSeason,
  frame: SeasonFrame,
  grafts: readonly GraftPlan[],
): DayPlan['queens'] {
  const bars = new Set(
    plan.placements.filter((one) => one.day === day).map((one) => key(frame.damOf[one.cross] ?? 0, one.graft)),
  );
  const here = grafts.filter(({ dam, graft }) => bars.has(key(dam, graft)));
  return here.map(({ dam, graft, queens, larvae }) => {
    const mother = frame.dams[dam] ?? '';
    const count = { left: larvae, after: 'grafted' as const };
    const own = ownOf(frame.ofDam[dam]?.profile ?? frame.wish.profile, frame);
    return {
      dam: mother,
      wanted: queens,
      grafts: [{ id: `${mother}:${dayAt(frame, graft)}`, grafted: dayAt(frame, graft), count, ...own }],
    };
  });
}

function dronesOn(day: number, plan: PlannedSeason, frame: SeasonFrame): DayPlan['drones'] {
  const wanted = semenWanted(plan, frame);
  const here = sumBy(
    wanted.filter((one) => one.day === day),
    ({ mother }) => String(mother),
    (one) => one.microlitres,
  );
  const needs = [...here].map(([name, microlitres]) => {
    const mother = Number(name);
    const lots = plan.combs
      .filter((comb) => comb.mother === mother)
      .map((comb) => lotOf(comb, partFor(comb, day), frame))
      .filter(({ count }) => count > 0);
    return { mother: frame.mothers[mother] ?? '', microlitres, lots };
  });
  return [...groupBy(needs, ({ mother }) => mother)].map(([mother, its]) => ({
    mother,
    microlitres: its.reduce((sum, { microlitres }) => sum + microlitres, 0),
    lots: its.flatMap(({ lots }) => lots),
  }));
}

/** Every insemination day of a plan as what it needs and what is to come for it: the beginning of its story. */
export function dayPlansOf(plan: PlannedSeason, frame: SeasonFrame): DayPlan[] {
  const grafts = graftsOf(plan, frame);
  const days = [...new Set(plan.placements.map(({ day }) => day))].sort((a, b) => a - b);
  return days.map((day) => ({
    on: dayAt(frame, day),
    queens: queensOn(day, plan, frame, grafts),
    drones: dronesOn(day, plan, frame),
  }));
}

/**
 * The readiness of every insemination day of a plan: the chance that all its queens and all its semen suffice, every link, and the weakest. Exact
 * distributions; grafts and mothers independent, days apart from each other.
 */
export function seasonChances(plan: PlannedSeason, frame: SeasonFrame): { on: Day; readiness: Readiness }[] {
  return dayPlansOf(plan, frame).map((one) => ({ on: one.on, readiness: readinessOn(one, frame.wish.profile) }));
}
