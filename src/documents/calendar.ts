import { ICalCalendar, ICalEventStatus, ICalEventTransparency } from 'ical-generator';
import { Temporal } from 'temporal-polyfill';
import { addDays, type Day } from '#units/calendar-day.ts';

/** One whole-day entry of a calendar file; `to` is its last day. */
export type CalendarEntry = {
  uid: string;
  sequence: number;
  from: Day;
  to: Day;
  summary: string;
  description?: string;
  cancelled: boolean;
};

/** What holds for the whole file. `stamped` is the day it is made (or stands for); no clock is read here. */
export type CalendarFile = { name: string; stamped: Day };

const plainDate = (on: Day) => Temporal.PlainDate.from(on);

/**
 * A calendar file (iCalendar, RFC 5545) of whole-day entries: `DTSTART;VALUE=DATE`, the end the day after the last as the standard has
 * it, CRLF line ends, lines folded at 75 octets. Read by the same calendar again it updates by UID and SEQUENCE instead of doubling.
 */
export function calendarFile(entries: readonly CalendarEntry[], { name, stamped }: CalendarFile): string {
  const calendar = new ICalCalendar({ name, prodId: { company: 'Combwright', product: 'rearing', language: 'EN' } });
  const stamp = plainDate(stamped).toZonedDateTime({ timeZone: 'UTC' }).toInstant();
  for (const { uid, sequence, from, to, summary, description, cancelled } of entries)
    calendar.createEvent({
      id: uid,
      sequence,
      stamp,
      start: plainDate(from),
      end: plainDate(addDays(to, 1)),
      allDay: true,
      summary,
      description: description ?? null,
      status: cancelled ? ICalEventStatus.CANCELLED : ICalEventStatus.CONFIRMED,
      transparency: ICalEventTransparency.TRANSPARENT,
    });
  return `${calendar.toString()}\r\n`;
}
