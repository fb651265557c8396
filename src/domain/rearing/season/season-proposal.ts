import { addDays, type Day } from '#units/calendar-day.ts';
import { type Readiness, readinessOf } from '../chances/readiness.ts';
import { needsOn } from '../reality/day-plan.ts';
import { type GoodQueens, goodQueens } from '../reality/good-queens.ts';
import type { SeasonAnswer } from './season-answer.ts';
import { dayPlansOf, graftsOf } from './season-chances.ts';
import type { SeasonFrame } from './season-frame.ts';
import type { CombPlan, PlannedSeason } from './season-plan.ts';

/** What of a bar or of combs is meant for a cross on one of its insemination days: queens, or combs. */
export type ProposedUse = { cross: string; on: Day; amount: number };

/** One bar to graft, for one cross or several of the same dam. */
export type ProposedBar = { dam: string; day: Day; larvae: number; uses: ProposedUse[] };

/** Drone combs of one mother to hang in on a day, for one cross or several. */
export type ProposedCombs = { mother: string; day: Day; combs: number; uses: ProposedUse[] };

/** One insemination day: how many queens of which cross, how sure, and how many queens come of it. */
export type ProposedDay = {
  on: Day;
  crosses: { cross: string; queens: number }[];
  readiness: Readiness;
  queens: number;
  good: GoodQueens;
};

/** A planned season in days and names, ready to be looked at and taken. */
export type SeasonProposal = {
  days: ProposedDay[];
  bars: ProposedBar[];
  combs: ProposedCombs[];
  /** Queens planned and wanted. */
  queens: number;
  wanted: number;
  good: GoodQueens;
  visits: number;
  worth: number;
  bound: number;
  gap: number;
};

const dayAt = ({ first }: SeasonFrame, day: number): Day => addDays(first, day);
const nameOf = (frame: SeasonFrame, cross: number): string => frame.wish.crosses[cross]?.cross ?? '';

function barsOf(plan: PlannedSeason, frame: SeasonFrame): ProposedBar[] {
  return graftsOf(plan, frame)
    .map(({ dam, graft, larvae }) => ({
      dam: frame.dams[dam] ?? '',
      day: dayAt(frame, graft),
      larvae,
      uses: plan.placements
        .filter((one) => one.graft === graft && frame.damOf[one.cross] === dam)
        .map(({ cross, day, queens }) => ({ cross: nameOf(frame, cross), on: dayAt(frame, day), amount: queens })),
    }))
    .sort((a, b) => (a.day < b.day ? -1 : Number(a.day > b.day)));
}

/** What of a comb goes to which cross of a day: as their queens need semen of its mother. */
function usesOf(comb: CombPlan, plan: PlannedSeason, frame: SeasonFrame): ProposedUse[] {
  return comb.uses.flatMap(({ day, combs }) => {
    const needs = plan.placements.flatMap(({ cross, day: on, queens }) =>
      (frame.dronesOf[cross] ?? [])
        .filter(({ mother }) => on === day && mother === comb.mother)
        .map(({ microlitres }) => ({ cross: nameOf(frame, cross), need: queens * microlitres })),
    );
    const whole = needs.reduce((sum, { need }) => sum + need, 0);
    return needs.map(({ cross, need }) => ({ cross, on: dayAt(frame, day), amount: (combs * need) / whole }));
  });
}

function combsOf(plan: PlannedSeason, frame: SeasonFrame): ProposedCombs[] {
  return plan.combs
    .map((comb) => ({
      mother: frame.mothers[comb.mother] ?? '',
      day: dayAt(frame, comb.in),
      combs: comb.count,
      uses: merged(usesOf(comb, plan, frame)),
    }))
    .sort((a, b) => (a.day < b.day ? -1 : Number(a.day > b.day)));
}

/** Uses of one cross on one day as one. */
function merged(uses: readonly ProposedUse[]): ProposedUse[] {
  const sums = new Map<string, ProposedUse>();
  for (const use of uses) {
    const key = `${use.cross} ${use.on}`;
    sums.set(key, { ...use, amount: use.amount + (sums.get(key)?.amount ?? 0) });
  }
  return [...sums.values()];
}

function daysOf(plan: PlannedSeason, frame: SeasonFrame): ProposedDay[] {
  const { profile } = frame.wish;
  const uses = merged(
    plan.placements.map(({ cross, day, queens }) => ({
      cross: nameOf(frame, cross),
      on: dayAt(frame, day),
      amount: queens,
    })),
  );
  return dayPlansOf(plan, frame).map((day) => {
    const crosses = uses.filter(({ on }) => on === day.on).map(({ cross, amount }) => ({ cross, queens: amount }));
    const needs = needsOn(day, profile);
    return {
      on: day.on,
      crosses,
      readiness: readinessOf(needs.queens, needs.drones),
      queens: crosses.reduce((sum, { queens }) => sum + queens, 0),
      good: goodQueens(needs),
    };
  });
}

const total = <T>(items: readonly T[], amount: (item: T) => number): number =>
  items.reduce((sum, item) => sum + amount(item), 0);

/**
 * A season as solved, in days and names: insemination days with their chances, shared bars and combs with what of them is whose, queens that can be expected,
 * and how good the plan is proven to be. The mean of good queens takes the queen side alone: the chance of the drones stands beside it.
 */
export function proposalOf({ plan, worth, bound, gap, visits }: SeasonAnswer, frame: SeasonFrame): SeasonProposal {
  const days = daysOf(plan, frame);
  return {
    days,
    bars: barsOf(plan, frame).map((bar) => ({ ...bar, uses: merged(bar.uses) })),
    combs: combsOf(plan, frame),
    queens: total(days, ({ queens }) => queens),
    wanted: total(frame.wish.crosses, ({ queens }) => queens),
    good: { ready: total(days, ({ good }) => good.ready), laying: total(days, ({ good }) => good.laying) },
    visits,
    worth,
    bound,
    gap,
  };
}
