import type { SeasonFrame } from './season-frame.ts';

/** So many queens of a cross, inseminated on a day, out of the bar of their dam grafted on another. Days are those of the frame. */
export type Placement = { cross: number; day: number; graft: number; queens: number };
/** Drone combs of one mother hung in on a day, and how much of them (in combs) is meant for which insemination day. */
export type CombPlan = { mother: number; in: number; count: number; uses: readonly CombUse[] };
export type CombUse = { day: number; combs: number };

/** A season as planned. */
export type PlannedSeason = { placements: readonly Placement[]; combs: readonly CombPlan[] };

/** The empty season. */
export const nothingPlanned: PlannedSeason = { placements: [], combs: [] };

/**
 * Distinct (yard, day) pairs on which something must be done there: inseminations and home grafts at home (yard 0), combs and grafts away. Visits made
 * anyway for what stands already are not among them.
 */
export function visitsOf({ placements, combs }: PlannedSeason, frame: SeasonFrame): { yard: number; day: number }[] {
  const seen = new Map<string, { yard: number; day: number }>();
  const add = (yard: number, day: number) => seen.set(`${yard}.${day}`, { yard, day });
  for (const { cross, day, graft } of placements) {
    add(0, day);
    add(frame.yardOfDam[frame.damOf[cross] ?? -1] ?? 0, graft);
  }
  for (const comb of combs) add(frame.yardOfMother[comb.mother] ?? 0, comb.in);
  return [...seen.values()].filter(({ yard, day }) => !frame.room.visits.has(yard * frame.days + day));
}

/** What a plan is worth: queens by the worth of their cross, less what its visits cost. The search and the solver maximise this. */
export function worthOf(plan: PlannedSeason, frame: SeasonFrame): number {
  const queens = plan.placements.reduce(
    (sum, { cross, queens }) => sum + queens * (frame.wish.crosses[cross]?.worth ?? 1),
    0,
  );
  return queens - frame.visitWorth * visitsOf(plan, frame).length;
}

/** Queens planned of each cross. */
export function queensOf({ placements }: PlannedSeason, frame: SeasonFrame): number[] {
  const queens = frame.wish.crosses.map(() => 0);
  for (const { cross, queens: more } of placements) queens[cross] = (queens[cross] ?? 0) + more;
  return queens;
}
