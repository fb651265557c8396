import ICAL from 'ical.js';
import { afterEach, describe, expect, it } from 'vitest';
import { eventsOf, updateEvents } from '#domain/rearing/calendar-event.ts';
import { countBack } from '#domain/rearing/count-back.ts';
import { standardText } from '#domain/rearing/standard-text.ts';
import { addDays, type Day, day } from '#units/calendar-day.ts';
import { calendarFile } from './calendar.ts';

/** Read back by ical.js 2.2.1, a parser of RFC 5545 that shares no code with the writer. */
function readBack(text: string) {
  const calendar = new ICAL.Component(ICAL.parse(text));
  return calendar.getAllSubcomponents('vevent').map((component) => {
    const event = new ICAL.Event(component);
    return {
      uid: event.uid,
      summary: event.summary,
      from: event.startDate.toString(),
      /** DTEND of a whole-day event is the day after its last (RFC 5545, 3.6.1). */
      to: addDays(day(event.endDate.toString()), -1),
      wholeDays: event.startDate.isDate,
      sequence: Number(component.getFirstPropertyValue('sequence')),
      status: component.getFirstPropertyValue('status'),
    };
  });
}

const tasksOn = (on: Day) => countBack({ inseminate: on, queens: 12, profile: standardText });
const file = (on: Day) =>
  calendarFile(
    eventsOf(tasksOn(on), 'cross B').map((event) => ({ ...event, summary: event.key })),
    { name: 'Cross B', stamped: on },
  );

describe('a calendar file', () => {
  const zone = process.env.TZ;
  afterEach(() => {
    if (zone === undefined) delete process.env.TZ;
    else process.env.TZ = zone;
  });

  it('holds every task as whole days that a parser reads back as they were', () => {
    const found = readBack(file(day('2027-06-12')));
    const tasks = tasksOn(day('2027-06-12'));
    expect(found.map(({ summary, from, to }) => [summary, from, to])).toEqual(
      tasks.map(({ key, from, to }) => [key, from, to]),
    );
    expect(found.every(({ wholeDays }) => wholeDays)).toBe(true);
    expect(new Set(found.map(({ uid }) => uid)).size).toBe(tasks.length);
  });

  it('is the same bytes in every time zone, over both clock changes, a leap day and New Year', () => {
    const days = ['2027-03-28', '2027-10-31', '2028-02-29', '2027-01-01', '2027-03-14', '2026-04-05'].map(day);
    const entries = days.flatMap((on) =>
      tasksOn(on)
        .filter(({ key }) => key === 'inseminate' || key === 'own-workers')
        .map(({ from, to, key }) => ({ uid: `${on}${key}`, sequence: 0, from, to, summary: key, cancelled: false })),
    );
    const write = () => calendarFile(entries, { name: 'x', stamped: day('2027-01-01') });
    process.env.TZ = 'UTC';
    const plain = write();
    const noons = new Set<string>();
    for (const name of Intl.supportedValuesOf('timeZone')) {
      process.env.TZ = name;
      noons.add(new Date(Date.UTC(2027, 5, 12, 12)).toString());
      expect(write(), name).toBe(plain);
    }
    expect(noons.size, 'the zone really changed').toBeGreaterThan(30);
  });

  it('is written as RFC 5545 wants it: CRLF, lines of at most 75 octets, a date value, one stamp an event', () => {
    const text = file(day('2027-06-12'));
    const lines = text.split('\r\n');
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    for (const line of lines) expect(new TextEncoder().encode(line).length).toBeLessThanOrEqual(75);
    expect(lines).toContain('DTSTART;VALUE=DATE:20270523');
    expect(lines.filter((line) => line.startsWith('DTSTAMP:'))).toHaveLength(tasksOn(day('2027-06-12')).length);
    expect(lines.slice(0, 2)).toEqual(['BEGIN:VCALENDAR', 'VERSION:2.0']);
  });

  it('keeps commas, semicolons, letters of six languages and µ in what it says', () => {
    const said = 'Umlarven; für A, B: żółw, ñandú, œuf, 8 µl \\ "Ž"';
    const text = calendarFile(
      [
        {
          uid: 'a@b',
          sequence: 0,
          from: day('2027-06-12'),
          to: day('2027-06-12'),
          summary: said.repeat(4),
          cancelled: false,
        },
      ],
      { name: 'x', stamped: day('2027-06-12') },
    );
    expect(readBack(text)[0]?.summary).toBe(said.repeat(4));
  });

  it('updates instead of doubling: same UIDs, sequence up where moved, cancelled where gone', () => {
    const before = eventsOf(tasksOn(day('2027-06-12')), 'cross B');
    const moved = tasksOn(day('2027-06-13')).filter(({ key }) => key !== 'first-co2');
    const after = updateEvents(before, moved, 'cross B');
    const entries = after.map((event) => ({ ...event, summary: event.key }));
    const found = readBack(calendarFile(entries, { name: 'Cross B', stamped: day('2027-06-01') }));
    expect(found.map(({ uid }) => uid).sort()).toEqual(before.map(({ uid }) => uid).sort());
    expect(found.every(({ sequence }) => sequence === 1)).toBe(true);
    expect(found.filter(({ status }) => status === 'CANCELLED').map(({ summary }) => summary)).toEqual(['first-co2']);
  });
});
