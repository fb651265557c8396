import type { Day } from '#units/calendar-day.ts';
import { language } from './say.ts';

type Look = Intl.DateTimeFormatOptions;

/** A calendar day is drawn in UTC, where every day has 24 hours: the zone of the machine cannot move it. */
const written = (on: Day, look: Look): string =>
  new Intl.DateTimeFormat(language() === 'en' ? 'en-GB' : language(), { ...look, timeZone: 'UTC' })
    .format(new Date(`${on}T00:00:00Z`))
    .replace(',', '');

/**
 * A day as people say it: weekday, day, month word; the year only when it is not that of `beside`.
 * @example dayWords('2027-06-12', '2027-05-01') // 'Sat 12 Jun'
 */
export function dayWords(on: Day, beside?: Day): string {
  const sameYear = beside?.slice(0, 4) === on.slice(0, 4);
  return written(on, {
    weekday: 'short',
    day: 'numeric',
    month: 'short',
    ...(sameYear ? {} : { year: 'numeric' }),
  });
}

/** A day without its weekday: `12 Jun 2027`. */
export const shortDay = (on: Day): string => written(on, { day: 'numeric', month: 'short', year: 'numeric' });

/** The parts of a day for a strip or a scale: weekday, day and month, and the day of the month alone. */
export const dayParts = (on: Day): { weekday: string; date: string; number: string } => ({
  weekday: written(on, { weekday: 'short' }),
  date: written(on, { day: 'numeric', month: 'short' }),
  number: written(on, { day: 'numeric' }),
});

/** Months as they are written short and long in the person's language, January first; lower case. */
export function monthWords(): readonly (readonly string[])[] {
  return Array.from({ length: 12 }, (_, month) => {
    const on = `2027-${String(month + 1).padStart(2, '0')}-01` as Day;
    return (['short', 'long'] as const).map((form) => written(on, { month: form }).toLowerCase().replace('.', ''));
  });
}

/** Whether `12/6` is 12 June (day first) or 6 December where this device is set up. */
export function dayComesFirst(locale: string = language()): boolean {
  const parts = new Intl.DateTimeFormat(locale, { day: 'numeric', month: 'numeric' }).formatToParts(new Date(0));
  const order = parts.map(({ type }) => type).filter((type) => type === 'day' || type === 'month');
  return order[0] !== 'month';
}
