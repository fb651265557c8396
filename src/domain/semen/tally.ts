import { doubt, type Problem } from '#units/problem.ts';

/** Why a drone gave nothing that could be used. */
export type NoSemenReason = 'faeces' | 'mucus' | 'bubble' | 'immature' | 'other';

/** What was counted of a catch: `taken` and `leftOver` drones, `gave` by foot or key (one press a drone), reasons by exception. */
export type TallyCounts = {
  taken: number | null;
  leftOver: number | null;
  gave: number;
  reasons: Readonly<Partial<Record<NoSemenReason, number>>>;
};

/** A catch summed up. Null where a count is missing. */
export type Tally = {
  gave: number;
  /** Taken − left over: nobody presses for the empty ones. */
  tried: number | null;
  /** Tried − gave. */
  nothing: number | null;
  /** Nothing given, and no reason written. */
  unexplained: number | null;
  /** Part of the tried drones that gave, 0-1; null without tried drones. */
  yielding: number | null;
  problems: readonly Problem<'more-left-than-taken' | 'more-gave-than-tried' | 'more-reasons-than-failures'>[];
};

/**
 * Sums up a catch: tried = taken − left over, and what follows from it. Counts that cannot be are doubted, not refused.
 * @example tally({ taken: 40, leftOver: 8, gave: 20, reasons: { mucus: 3 } }) // tried 32, nothing 12, unexplained 9, yielding 0.625
 */
export function tally(counts: TallyCounts): Tally {
  const { taken, leftOver, gave } = counts;
  const tried = taken === null || leftOver === null ? null : taken - leftOver;
  const reasons = Object.values(counts.reasons).reduce((sum, count) => sum + count, 0);
  const nothing = tried === null ? null : tried - gave;
  const problems: Tally['problems'][number][] = [];
  if (tried !== null && tried < 0) {
    problems.push(doubt('leftOver', 'more-left-than-taken', { taken: taken ?? 0, left: leftOver ?? 0 }));
  } else if (nothing !== null && nothing < 0) {
    problems.push(doubt('gave', 'more-gave-than-tried', { gave, tried: tried ?? 0 }));
  } else if (nothing !== null && reasons > nothing) {
    problems.push(doubt('reasons', 'more-reasons-than-failures', { reasons, failures: nothing }));
  }
  const unexplained = nothing === null ? null : nothing - reasons;
  return { gave, tried, nothing, unexplained, yielding: tried !== null && tried > 0 ? gave / tried : null, problems };
}

/** µl of semen a yielding drone gave, of what was collected; null when none gave. */
export const microlitresPerDrone = (collected: number, gave: number): number | null =>
  gave > 0 ? collected / gave : null;
