import { describe, expect, it } from 'vitest';
import { day } from '#units/calendar-day.ts';
import { eventsOf, uidOf, updateEvents } from './calendar-event.ts';
import { countBack } from './count-back.ts';
import { standardText } from './standard-text.ts';

const tasks = countBack({ inseminate: day('2027-06-12'), queens: 12, profile: standardText });

describe('calendar events', () => {
  it('have the uid of their cross and task, on every run', () => {
    expect(uidOf('cross B', 'graft')).toBe(uidOf('cross B', 'graft'));
    expect(uidOf('cross B', 'graft')).not.toBe(uidOf('cross C', 'graft'));
    expect(uidOf('cross B', 'graft')).toMatch(/^graft\.[0-9a-f]{16}@combwright$/);
    // FNV-1a 64 of "foobar", published with the hash (Fowler, Noll, Vo; draft-eastlake-fnv).
    expect(uidOf('foobar', 'graft')).toContain('85944171f73967e8');
  });

  it('are left alone where nothing changed', () => {
    const before = eventsOf(tasks, 'B');
    expect(updateEvents(before, tasks, 'B')).toEqual(before);
  });

  it('a cancelled one stays cancelled without going up, and comes back one higher', () => {
    const gone = updateEvents(eventsOf(tasks, 'B'), tasks.slice(1), 'B');
    expect(gone.at(-1)).toMatchObject({ key: 'drone-comb-in', cancelled: true, sequence: 1 });
    expect(updateEvents(gone, tasks.slice(1), 'B')).toEqual(gone);
    const back = updateEvents(gone, tasks, 'B');
    expect(back[0]).toMatchObject({ key: 'drone-comb-in', cancelled: false, sequence: 2 });
  });
});
