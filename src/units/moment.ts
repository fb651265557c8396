import { Temporal } from 'temporal-polyfill';
import type { Day } from './calendar-day.ts';

/**
 * An instant with its zone, as RFC 9557 text `2027-06-12T14:05:00+02:00[Europe/Berlin]`.
 * Only semen, carbon dioxide and the bench carry one; everything else is a {@link Day}.
 */
export type Moment = string & { readonly __unit: 'moment' };

/** Reads a moment with a zone in brackets; `null` when it is not one. */
export function parseMoment(text: string): Moment | null {
  try {
    return Temporal.ZonedDateTime.from(text, { offset: 'use' }).toString({ fractionalSecondDigits: 3 }) as Moment;
  } catch {
    return null;
  }
}

/** The moment of `milliseconds` since 1970 (UTC) in a zone such as `Europe/Berlin`. Throws on an unknown zone. */
export function momentAt(milliseconds: number, zone: string): Moment {
  return Temporal.Instant.fromEpochMilliseconds(Math.trunc(milliseconds))
    .toZonedDateTimeISO(zone)
    .toString({ fractionalSecondDigits: 3 }) as Moment;
}

/** The moment a clock in a zone shows `time` (`14:05`) on a day; one that a clock change leaves out is moved on. */
export function momentOn(day: Day, time: string, zone: string): Moment {
  return Temporal.PlainDateTime.from(`${day}T${time}`)
    .toZonedDateTime(zone)
    .toString({ fractionalSecondDigits: 3 }) as Moment;
}

/** The zone of a moment. */
export const zoneOf = (moment: Moment): string => Temporal.ZonedDateTime.from(moment, { offset: 'use' }).timeZoneId;

/** Milliseconds since 1970 (UTC) of a moment. */
export function epochOf(moment: Moment): number {
  return Temporal.ZonedDateTime.from(moment, { offset: 'use' }).epochMilliseconds;
}

/** The calendar day a moment falls on where it was recorded. */
export function dayOfMoment(moment: Moment): Day {
  return moment.slice(0, 10) as Day;
}

/** Hours from `earlier` to `later`, through any clock change: the age of semen is counted this way. */
export function hoursBetween(earlier: Moment, later: Moment): number {
  return (epochOf(later) - epochOf(earlier)) / 3_600_000;
}
