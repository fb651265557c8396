/** A calendar day, ISO `YYYY-MM-DD`: what a graft, an emergence, a laying check happens on. Never an instant. */
export type Day = string & { readonly __unit: 'day' };

const ISO_DAY = /^(\d{4})-(\d{2})-(\d{2})$/;
const DAYS_IN_MONTH = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;

const isLeap = (year: number): boolean => (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;

/** Days of month 1-12; 0 for any other month. */
const daysIn = (year: number, month: number): number =>
  month === 2 && isLeap(year) ? 29 : (DAYS_IN_MONTH[month - 1] ?? 0);

/**
 * Reads an ISO day; `null` when the text is not one or the day does not exist (31 June, 29 February 2027).
 * @example parseDay('2027-06-12') // '2027-06-12'
 */
export function parseDay(text: string): Day | null {
  const [, year, month, date] = ISO_DAY.exec(text) ?? [];
  if (year === undefined) return null;
  return Number(date) >= 1 && Number(date) <= daysIn(Number(year), Number(month)) ? (text as Day) : null;
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

/**
 * Days since 1 March of the year 0 of the proleptic Gregorian calendar (ISO 8601): years begin in March, so that the leap day
 * is their last, and 400 years have 146,097 days.
 */
function numberOf(on: Day): number {
  const month = Number(on.slice(5, 7));
  const year = Number(on.slice(0, 4)) - (month < 3 ? 1 : 0);
  const sinceMarch = Math.floor((153 * ((month + 9) % 12) + 2) / 5) + Number(on.slice(8, 10)) - 1;
  return 365 * year + Math.floor(year / 4) - Math.floor(year / 100) + Math.floor(year / 400) + sinceMarch;
}

const LAST_YEAR = 9999;

/** The day with a number of {@link numberOf}. */
function dayNumbered(number: number): Day {
  const era = Math.floor(number / 146_097);
  const ofEra = number - 146_097 * era;
  const yearOfEra = Math.floor(
    (ofEra - Math.floor(ofEra / 1460) + Math.floor(ofEra / 36_524) - Math.floor(ofEra / 146_096)) / 365,
  );
  const ofYear = ofEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const march = Math.floor((5 * ofYear + 2) / 153);
  const month = march < 10 ? march + 3 : march - 9;
  const year = 400 * era + yearOfEra + (month < 3 ? 1 : 0);
  const on = dayOf(year, month, ofYear - Math.floor((153 * march + 2) / 5) + 1);
  if (on === null || year > LAST_YEAR) throw new RangeError(`no day of the years 0 to ${LAST_YEAR}: ${year}`);
  return on;
}

/** `days` (whole) after (or, negative, before) a day. Pure calendar arithmetic: a clock change cannot move it. Throws on parts of a day. */
export function addDays(from: Day, days: number): Day {
  if (!Number.isInteger(days)) throw new RangeError(`not a whole number of days: ${days}`);
  return dayNumbered(numberOf(from) + days);
}

/** Whole days from `earlier` to `later`; negative when `later` comes first. */
export function daysBetween(earlier: Day, later: Day): number {
  return numberOf(later) - numberOf(earlier);
}

/** Calendar year of a day. */
export function yearOf(on: Day): number {
  return Number(on.slice(0, 4));
}

/** 1 = Monday … 7 = Sunday. */
export function weekday(on: Day): number {
  // Day 0, 1 March of the year 0, was a Wednesday.
  return ((numberOf(on) + 2) % 7) + 1;
}

/** The earlier (later) of two days; ISO days sort as text. */
export const earlierOf = (a: Day, b: Day): Day => (a <= b ? a : b);
export const laterOf = (a: Day, b: Day): Day => (a >= b ? a : b);
