import { Temporal } from 'temporal-polyfill';

/** A calendar day, ISO `YYYY-MM-DD`: what a graft, an emergence, a laying check happens on. Never an instant. */
export type Day = string & { readonly __unit: 'day' };

const ISO_DAY = /^\d{4}-\d{2}-\d{2}$/;

/**
 * Reads an ISO day; `null` when the text is not one or the day does not exist (31 June, 29 February 2027).
 * @example parseDay('2027-06-12') // '2027-06-12'
 */
export function parseDay(text: string): Day | null {
  if (!ISO_DAY.test(text)) return null;
  try {
    return Temporal.PlainDate.from(text, { overflow: 'reject' }).toString() as Day;
  } catch {
    return null;
  }
}

/** The same day as {@link parseDay}; throws when our own code passes something that is not a day. */
export function day(text: string): Day {
  const parsed = parseDay(text);
  if (parsed === null) throw new RangeError(`not a calendar day: ${text}`);
  return parsed;
}

/** The day `year`-`month`-`date` (month 1-12), or `null` when the calendar has no such day. */
export function dayOf(year: number, month: number, date: number): Day | null {
  const pad = (n: number, width: number) => String(n).padStart(width, '0');
  return parseDay(`${pad(year, 4)}-${pad(month, 2)}-${pad(date, 2)}`);
}

/** `days` after (or, negative, before) a day. Pure calendar arithmetic: a clock change cannot move it. */
export function addDays(from: Day, days: number): Day {
  return Temporal.PlainDate.from(from).add({ days }).toString() as Day;
}

/** Whole days from `earlier` to `later`; negative when `later` comes first. */
export function daysBetween(earlier: Day, later: Day): number {
  return Temporal.PlainDate.from(earlier).until(Temporal.PlainDate.from(later), { largestUnit: 'day' }).days;
}

/** Calendar year of a day. */
export function yearOf(on: Day): number {
  return Number(on.slice(0, 4));
}

/** 1 = Monday … 7 = Sunday. */
export function weekday(on: Day): number {
  return Temporal.PlainDate.from(on).dayOfWeek;
}

/** The earlier (later) of two days; ISO days sort as text. */
export const earlierOf = (a: Day, b: Day): Day => (a <= b ? a : b);
export const laterOf = (a: Day, b: Day): Day => (a >= b ? a : b);
