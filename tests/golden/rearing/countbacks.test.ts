import ICAL from 'ical.js';
import { afterEach, describe, expect, it } from 'vitest';
import type { World } from '#cli/command.ts';
import { countback } from '#cli/commands/countback.ts';
import { readGiven } from '#cli/given.ts';
import golden from './countbacks.json';

type Task = { key: string; day: string; from: string; to: string };
type Case = (typeof golden.cases)[number];

/** The command as a person runs it; gives its tasks and the calendar it wrote. */
async function counted({ inseminate, profile, queenAge, droneAge, doses, holdDays }: Case, withCalendar = true) {
  const files: Record<string, string> = {};
  const world: World = {
    read: async () => new Uint8Array(),
    write: async (path, bytes) => {
      files[path] = typeof bytes === 'string' ? bytes : new TextDecoder().decode(bytes);
    },
    tell: () => undefined,
  };
  const line = `--inseminate ${inseminate} --queens 12 --queen-age ${queenAge} --drone-age ${droneAge} --doses ${doses} --hold-days ${holdDays} --profile ${profile}${withCalendar ? ' --ics x.ics' : ''}`;
  const reply = await countback.run(readGiven(countback, line.split(' ')), world);
  return { tasks: (reply.json as { tasks: Task[] }).tasks, calendar: files['x.ics'] ?? '' };
}

const spans = (tasks: readonly Task[]) => Object.fromEntries(tasks.map(({ key, from, to }) => [key, [from, to]]));
const expected = (days: Case['days']) =>
  Object.entries(days).map(([key, day]) => [key, Array.isArray(day) ? day : [day, day]] as const);

describe('the command countback against Python’s datetime.date (make_countbacks.py), every shipped profile', () => {
  it('falls on its days in leap years, centuries, over New Year and in southern seasons', async () => {
    for (const one of golden.cases) {
      const found = spans((await counted(one)).tasks);
      for (const [key, span] of expected(one.days))
        expect(found[key], `${one.inseminate} ${one.profile} ${key}`).toEqual(span);
    }
    expect(new Set(golden.cases.map(({ profile }) => profile)).size).toBe(3);
  });

  it('writes the same days into the calendar, as ical.js reads them (RFC 5545: DTEND is the day after the last)', async () => {
    for (const one of golden.cases.filter((_, i) => i % 12 === 0)) {
      const { tasks, calendar } = await counted(one);
      const events = new ICAL.Component(ICAL.parse(calendar)).getAllSubcomponents('vevent');
      expect(events).toHaveLength(tasks.length);
      for (const [i, component] of events.entries()) {
        const event = new ICAL.Event(component);
        const last = event.endDate.clone();
        last.adjust(-1, 0, 0, 0);
        expect([event.startDate.isDate, event.startDate.toString(), last.toString()]).toEqual([
          true,
          tasks[i]?.from,
          tasks[i]?.to,
        ]);
        expect(component.getFirstPropertyValue('sequence')).toBe(0);
      }
      expect((await counted(one)).calendar).toBe(calendar);
    }
  });
});

describe('in every time zone there is', () => {
  const zone = process.env.TZ;
  afterEach(() => {
    if (zone === undefined) delete process.env.TZ;
    else process.env.TZ = zone;
  });

  // The calendar file itself is held against every zone in src/documents/calendar.test.ts.
  it('no day shifts: not at either clock change of the zone, not on a leap day, not in a southern season', async () => {
    const [leap, spring, autumn, southern] = ['2028-02-29', '2027-03-28', '2027-10-31', '2027-10-03'].map((on) =>
      golden.cases.find(({ inseminate }) => inseminate === on),
    );
    const chosen = [leap, spring, autumn, southern].flatMap((one) => (one === undefined ? [] : [one]));
    expect(chosen).toHaveLength(4);
    const plain = await Promise.all(chosen.map((one) => counted(one, false)));
    const clocks = new Set<string>();
    for (const name of Intl.supportedValuesOf('timeZone')) {
      process.env.TZ = name;
      clocks.add(new Date(Date.UTC(2027, 5, 12, 12)).toString());
      for (const [i, one] of chosen.entries())
        expect((await counted(one, false)).tasks, `${name} ${one.inseminate}`).toEqual(plain[i]?.tasks);
    }
    expect(clocks.size, 'the zone really changed').toBeGreaterThan(30);
  }, 60_000);
});
