import { addDays, type Day, earlierOf, laterOf } from '#units/calendar-day.ts';

/** A day that is known to lie between two days, both included; equal when the day is known. */
export type DaySpan = { earliest: Day; latest: Day };

/** The span of one known day. */
export const onDay = (day: Day): DaySpan => ({ earliest: day, latest: day });

/** A span as many days later (or, negative, earlier). */
export const shifted = (span: DaySpan, days: number): DaySpan => ({
  earliest: addDays(span.earliest, days),
  latest: addDays(span.latest, days),
});

/** The later of two uncertain days: each end the later one. */
export const laterSpan = (a: DaySpan, b: DaySpan): DaySpan => ({
  earliest: laterOf(a.earliest, b.earliest),
  latest: laterOf(a.latest, b.latest),
});

/** The earlier of two uncertain days: each end the earlier one. */
export const earlierSpan = (a: DaySpan, b: DaySpan): DaySpan => ({
  earliest: earlierOf(a.earliest, b.earliest),
  latest: earlierOf(a.latest, b.latest),
});
