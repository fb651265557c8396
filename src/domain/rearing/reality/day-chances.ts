import { type Readiness, readinessOf } from '../chances/readiness.ts';
import type { BiologyProfile } from '../profile.ts';
import { type DayPlan, linkDots, needsOn } from './day-plan.ts';
import { type GoodQueens, goodQueens } from './good-queens.ts';
import { type Repair, type RepairMeans, repairsFor } from './repair.ts';

/** How sure one insemination day is: every link with twenty equally likely outcomes, and the good queens to be expected. */
export type DayChances = { readiness: Readiness; dots: number[][]; good: GoodQueens };

/** The insemination days of a season, and the profile that holds for them. */
export type DaysFacts = { plans: readonly DayPlan[]; profile: BiologyProfile };

/** The chances of many insemination days, one after the other; `progress` is told after each. */
export function chancesOfDays(
  { plans, profile }: DaysFacts,
  progress: (done: number, whole: number) => void = () => undefined,
): DayChances[] {
  return plans.map((plan, i) => {
    const needs = needsOn(plan, profile);
    const readiness = readinessOf(needs.queens, needs.drones);
    const dots = readiness.links.map((link) => linkDots(link, needs));
    const good = goodQueens(needs);
    progress(i + 1, plans.length);
    return { readiness, dots, good };
  });
}

/** A day in doubt, and what a repair of it may draw on. */
export type MendingFacts = { plan: DayPlan; means: RepairMeans };

/** The chance of a day as it stands, and every way to mend it, the cheapest first. */
export function waysToMend({ plan, means }: MendingFacts): { chance: number; repairs: Repair[] } {
  const [day] = chancesOfDays({ plans: [plan], profile: means.profile });
  return { chance: day?.readiness.chance ?? 1, repairs: repairsFor(plan, means) };
}
