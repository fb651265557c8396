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
