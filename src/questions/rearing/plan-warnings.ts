import type { Wish } from '#domain/rearing/wish.ts';
import { type WishWarning, warningsOf } from '#domain/rearing/wish-warnings.ts';
import type { Day } from '#units/calendar-day.ts';
import type { Problem } from '#units/problem.ts';

/**
 * What a person should be told of a plan: ages outside their windows, a day that is past, and a day too near to raise both sides
 * anew (only where the earliest day really is later). Single late tasks are shown at the tasks.
 */
export function planWarnings(wish: Wish, today: Day): Problem<WishWarning>[] {
  return warningsOf(wish, today).filter(({ code, values }) => {
    if (code === 'task-past') return false;
    return code !== 'day-too-near' || String(values.earliest) > wish.inseminate;
  });
}

/** What is being raised for a plan: combs and bars that are there, and keys of its tasks that are done. */
export type BeingRaised = { combs: number; bars: number; done: ReadonlySet<string> };

/** Of the warnings of a plan those that stand: once both sides are being raised, or were, no day is too near any more. */
export function standing<T extends Problem>(warnings: readonly T[], { combs, bars, done }: BeingRaised): T[] {
  const isRaised = (combs > 0 || done.has('drone-comb-in')) && (bars > 0 || done.has('graft'));
  return warnings.filter(({ code }) => !(isRaised && (code === 'day-too-near' || code === 'day-past')));
}
