import { kaplanMeier, type Watched } from '#numeric/chance/kaplan-meier.ts';
import { type Day, daysBetween } from '#units/calendar-day.ts';
import { isLoss, type Outcome } from './outcome.ts';

/** One day on which something happened: the share still without it, how many were being watched, and the 95 % interval. */
export type CurveDay = { day: number; alive: number; atRisk: number; low: number | null; high: number | null };

function watched(from: Day | null, event: Day | null, watchedTo: Day | null): Watched[] {
  const end = event ?? watchedTo;
  if (from === null || end === null) return [];
  return [{ time: daysBetween(from, end), happened: event !== null }];
}

const daysOf = (cases: readonly Watched[]): CurveDay[] =>
  kaplanMeier(cases).map(({ time, share, atRisk, low, high }) => ({ day: time, alive: share, atRisk, low, high }));

/**
 * Survival from insemination (Kaplan-Meier): one entry for each day with a loss. Lost on `lostOn` (sold, given and sampled queens were
 * watched until then and are no loss), else watched to `checkedOn`. Queens without insemination day or either end are left out.
 */
export function survivalOf(outcomes: readonly Outcome[]): CurveDay[] {
  return daysOf(
    outcomes.flatMap((one) => {
      const gone = one.lostOn ?? one.checkedOn;
      return isLoss(one) ? watched(one.inseminated, one.lostOn, null) : watched(one.inseminated, null, gone);
    }),
  );
}

/** Onset of laying the same way: `alive` is here the share not yet laying, `laying` the rest. */
export function onsetOf(outcomes: readonly Outcome[]): (CurveDay & { laying: number })[] {
  const cases = outcomes.flatMap((one) => watched(one.inseminated, one.layingOn, one.checkedOn));
  return daysOf(cases).map((step) => ({ ...step, laying: 1 - step.alive }));
}
