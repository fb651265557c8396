import type { AgeWindow, UsableAges } from '#domain/rearing/profile.ts';
import { addDays, type Day, daysBetween } from '#units/calendar-day.ts';
import type { DaySpan } from './day-span.ts';

/** What an insect of some age is good for on a day. */
export type Usable = 'too-young' | 'second-best' | 'best' | 'too-old';

/** Days on which all of them, and on which at least some of them, are of age; `all` null when they never are at one time. */
export type UsableDays = { all: { from: Day; to: Day } | null; some: { from: Day; to: Day } };

/**
 * When insects that emerged in a span of days can be used: `some` from the first to come of age to the last to grow too old,
 * `all` while every one of them is within the window.
 */
export function usableDays(emerged: DaySpan, ages: AgeWindow): UsableDays {
  const some = { from: addDays(emerged.earliest, ages.from), to: addDays(emerged.latest, ages.to) };
  const all = { from: addDays(emerged.latest, ages.from), to: addDays(emerged.earliest, ages.to) };
  return { all: all.from <= all.to ? all : null, some };
}

/** How usable one insect is on a day, by the ages of a profile ("standard text", "common practice", or the user's own). */
export function usableOn(emerged: Day, on: Day, ages: UsableAges): Usable {
  const age = daysBetween(emerged, on);
  if (age < ages.hard.from) return 'too-young';
  if (age > ages.hard.to) return 'too-old';
  return age >= ages.preferred.from && age <= ages.preferred.to ? 'best' : 'second-best';
}
