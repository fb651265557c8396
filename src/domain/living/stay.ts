import type { Day } from '#units/calendar-day.ts';
import type { DaySpan } from './day-span.ts';

/**
 * A queen heading or sitting in a colony (or a cage, `colony` null). `from` null: since before anything was written;
 * `to` null: still there as far as known. Both ends may be spans ("between 12 August and 3 April").
 */
export type Stay = {
  queen: string;
  colony: string | null;
  cage: string | null;
  role: 'heads' | 'caged' | 'banked';
  from: DaySpan | null;
  to: DaySpan | null;
};

/** How much of a span a stay covers: surely all of it, perhaps or partly, or surely none. */
export type Cover = 'all' | 'some' | 'none';

/**
 * Whether a queen was there from `first` to `last` (both included).
 * `all` only when even the latest start and the earliest end leave the span covered; `none` only when even the earliest
 * start and the latest end miss it.
 */
export function coverOf(stay: Stay, first: Day, last: Day): Cover {
  const startedBy = stay.from === null || stay.from.latest <= first;
  const stayedTo = stay.to === null || stay.to.earliest >= last;
  if (startedBy && stayedTo) return 'all';
  const missed = (stay.from !== null && stay.from.earliest > last) || (stay.to !== null && stay.to.latest < first);
  return missed ? 'none' : 'some';
}
