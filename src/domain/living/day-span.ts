import type { Day } from '#units/calendar-day.ts';

/** A day that is known to lie between two days, both included; equal when the day is known. */
export type DaySpan = { earliest: Day; latest: Day };

/** The span of one known day. */
export const onDay = (day: Day): DaySpan => ({ earliest: day, latest: day });
