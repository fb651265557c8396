import { addDays, type Day } from '#units/calendar-day.ts';
import type { DroneLot } from '../chances/drone-lot.ts';
import { larvaeNeeded, queenShares, queensThrough } from '../chances/queen-losses.ts';
import { type DroneNeed, type QueenNeed, type Readiness, readinessOf } from '../chances/readiness.ts';
import { semenSupply } from '../chances/semen-supply.ts';
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
  const { profile } = frame.wish;
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

/** The part of a comb's drones meant for a day when it serves several: by the combs each day would use up. */
function partFor(comb: CombPlan, day: number, wanted: ReturnType<typeof semenWanted>, frame: SeasonFrame): number {
  const uses = wanted
    .filter(({ mother }) => mother === comb.mother)
    .map((one) => ({
      day: one.day,
      combs: one.microlitres / (frame.supplyAfter[one.day - comb.in] || Number.POSITIVE_INFINITY),
    }));
  const all = uses.reduce((sum, { combs }) => sum + combs, 0);
  const here = uses.filter((one) => one.day === day).reduce((sum, { combs }) => sum + combs, 0);
  return all === 0 ? 0 : here / all;
}

const dayAt = (frame: SeasonFrame, day: number): Day => addDays(frame.first, day);

/** A planned comb as a lot of cells laid over its useful days, `part` of it. */
function lotOf(comb: CombPlan, part: number, frame: SeasonFrame): DroneLot {
  const { profile } = frame.wish;
  const laidFrom = dayAt(frame, comb.in + profile.timings.combLead.value);
  const span = profile.usual.droneAge.to - profile.usual.droneAge.from;
  const count = Math.round(comb.count * part * profile.yields.cellsPerComb.value);
  return { counted: 'cells', count, laidFrom, laidTo: addDays(laidFrom, span) };
}

/**
 * The readiness of every insemination day of a plan: the chance that all its queens and all its semen suffice, every link, and the weakest. Exact
 * distributions; grafts and mothers independent, days apart from each other.
 */
export function seasonChances(plan: PlannedSeason, frame: SeasonFrame): { day: number; readiness: Readiness }[] {
  const { profile } = frame.wish;
  const wanted = semenWanted(plan, frame);
  const grafts = graftsOf(plan, frame);
  const days = [...new Set(plan.placements.map(({ day }) => day))].sort((a, b) => a - b);
  return days.map((day) => {
    const here = plan.placements.filter((one) => one.day === day);
    const bars = [...new Set(here.map((one) => key(frame.damOf[one.cross] ?? 0, one.graft)))];
    const queens = bars.flatMap((name): QueenNeed[] => {
      const bar = grafts.find((one) => key(one.dam, one.graft) === name);
      if (bar === undefined) return [];
      const shares = sharesOf(frame, bar, plan.placements);
      const ready = queensThrough({ left: bar.larvae, after: 'grafted' }, shares);
      return [{ mother: frame.dams[bar.dam] ?? '', queens: bar.queens, grafts: [ready] }];
    });
    const microlitres = sumBy(
      wanted.filter((one) => one.day === day),
      ({ mother }) => String(mother),
      (one) => one.microlitres,
    );
    const drones = [...microlitres].map(([name, need]): DroneNeed => {
      const mother = Number(name);
      const lots = plan.combs
        .filter((comb) => comb.mother === mother)
        .map((comb) => lotOf(comb, partFor(comb, day, wanted, frame), frame))
        .filter(({ count }) => count > 0);
      const supply = semenSupply({ lots, on: dayAt(frame, day), profile });
      return { mother: frame.mothers[mother] ?? '', microlitres: need, supply };
    });
    return { day, readiness: readinessOf(queens, drones) };
  });
}
