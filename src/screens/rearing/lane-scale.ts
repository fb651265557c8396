import type { Lanes } from '#questions/rearing/lanes.ts';
import { addDays, type Day, daysBetween, weekday } from '#units/calendar-day.ts';

/** Turns days into pixels across a drawing. */
export type DayScale = {
  width: number;
  perDay: number;
  /** Left edge of a day. */
  left(day: Day): number;
  /** Middle of a day. */
  middle(day: Day): number;
  /** Mondays to label, far enough apart to be read. */
  mondays: Day[];
};

const MONDAY = 1;
/** Pixels a label of a Monday needs. */
const LABEL = 62;

/** A scale for the days of some lanes across `width` pixels. */
export function dayScale({ from, to }: Pick<Lanes, 'from' | 'to'>, width: number): DayScale {
  const days = daysBetween(from, to) + 1;
  const perDay = width / days;
  const left = (day: Day) => daysBetween(from, day) * perDay;
  const first = addDays(from, (MONDAY - weekday(from) + 7) % 7);
  const step = 7 * Math.max(1, Math.ceil(LABEL / (7 * perDay)));
  const mondays: Day[] = [];
  for (let day = first; day <= to; day = addDays(day, step)) mondays.push(day);
  return { width, perDay, left, middle: (day) => left(day) + perDay / 2, mondays };
}
