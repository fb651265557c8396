import type { Day } from '#units/calendar-day.ts';
import { addDays, daysBetween } from '#units/calendar-day.ts';

/** One inseminated queen as the laying clock sees her: when eggs were first seen, how far she was watched, whether she was lost. */
export type Clocked = {
  queen: string;
  inseminated: Day;
  /** The day eggs were first seen; null while none were. */
  eggsOn: Day | null;
  /** The last day somebody looked. */
  watchedTo: Day | null;
  /** Lost before any eggs were seen. */
  lostWithout: boolean;
};

/** So many of so many had eggs by a day after insemination. */
export type ByNow = { day: number; laying: number; of: number };

/** Known by day d: eggs by then, looked at on or after it, or lost without eggs. */
const isKnownBy = (one: Clocked, day: number): boolean =>
  laysBy(one, day) || one.lostWithout || (one.watchedTo !== null && daysBetween(one.inseminated, one.watchedTo) >= day);

const laysBy = ({ inseminated, eggsOn }: Clocked, day: number): boolean =>
  eggsOn !== null && eggsOn <= addDays(inseminated, day);

/**
 * How many of some queens had eggs by a day after their insemination; those nobody looked at so late, and who had none before,
 * are left out. "Day 12. Of your last 60 queens, 51 laid by now."
 */
export function layingBy(queens: readonly Clocked[], day: number): ByNow {
  const known = queens.filter((one) => isKnownBy(one, day));
  return { day, laying: known.filter((one) => laysBy(one, day)).length, of: known.length };
}

/** The clock's steps: {@link layingBy} for each day from 0 to `lastDay`; days of which nothing is known are left out. */
export function layingSteps(queens: readonly Clocked[], lastDay: number): ByNow[] {
  return Array.from({ length: lastDay + 1 }, (_, day) => layingBy(queens, day)).filter(({ of }) => of > 0);
}

/** At least this many past queens make a rule; below it nothing is said about early or late. */
export const FEW_PAST = 10;

/** Where a queen without eggs stands among past ones: nothing unusual yet, later than most, or later than nearly all. */
export type Lateness = 'too-few' | 'in-time' | 'late' | 'very-late';

/** Half of those that ever laid had eggs by now: still in time. Nine of ten: late. Nineteen of twenty: very late. */
export function latenessOf(past: readonly Clocked[], day: number): Lateness {
  const laid = past.filter((one) => one.eggsOn !== null);
  if (laid.length < FEW_PAST) return 'too-few';
  const { laying } = layingBy(laid, day);
  const share = laying / laid.length;
  if (share >= 0.95) return 'very-late';
  return share >= 0.9 ? 'late' : 'in-time';
}

/** The last `count` queens inseminated before a day, newest first. */
export function lastInseminated(queens: readonly Clocked[], before: Day, count: number): Clocked[] {
  return queens
    .filter(({ inseminated }) => inseminated < before)
    .sort((a, b) => (a.inseminated > b.inseminated ? -1 : 1))
    .slice(0, count);
}
