import type { Day } from '#units/calendar-day.ts';

/**
 * One task as a calendar knows it (RFC 5545). The same `uid` for life, `sequence` one higher at each change, and `cancelled` instead of
 * vanishing: so a calendar that reads the file again moves what it has, and doubles nothing. Whole days, `to` included.
 */
export type CalendarEvent = {
  uid: string;
  sequence: number;
  key: string;
  from: Day;
  to: Day;
  values: Readonly<Record<string, number>>;
  cancelled: boolean;
};

/** A task as far as a calendar is concerned; `of` tells tasks of one key apart (the first graft of a dam, her second). */
export type Dated = { key: string; of?: string; from: Day; to: Day; values: Readonly<Record<string, number>> };

const OFFSET = 0xcbf29ce484222325n;
const PRIME = 0x100000001b3n;

/** The 64-bit Fowler-Noll-Vo hash (FNV-1a) of a text, 16 hexadecimal digits. */
function fingerprint(text: string): string {
  let hash = OFFSET;
  for (const symbol of text) {
    hash ^= BigInt(symbol.codePointAt(0) ?? 0);
    hash = BigInt.asUintN(64, hash * PRIME);
  }
  return hash.toString(16).padStart(16, '0');
}

/** The uid of one task of what `name` stands for: the same name and key give the same uid, on every machine and run. */
export const uidOf = (name: string, key: string): string => `${key}.${fingerprint(name)}@combwright`;

/** First calendar of a plan: every task an event with sequence 0. */
export function eventsOf(tasks: readonly Dated[], name: string): CalendarEvent[] {
  return tasks.map(({ key, of, from, to, values }) => ({
    uid: uidOf(of === undefined ? name : `${name} ${of}`, key),
    sequence: 0,
    key,
    from,
    to,
    values,
    cancelled: false,
  }));
}

const differs = (a: CalendarEvent, b: CalendarEvent) =>
  a.from !== b.from || a.to !== b.to || a.cancelled !== b.cancelled;

/**
 * The calendar after a plan changed: moved tasks keep their uid and go up one in sequence, tasks no longer there are cancelled,
 * a task that came back is no longer cancelled, and what stayed is left untouched. Order: as in the new plan, then the cancelled.
 */
export function updateEvents(before: readonly CalendarEvent[], tasks: readonly Dated[], name: string): CalendarEvent[] {
  const known = new Map(before.map((event) => [event.uid, event]));
  const now = eventsOf(tasks, name).map((event) => {
    const old = known.get(event.uid);
    if (old === undefined) return event;
    return { ...event, sequence: differs(old, event) ? old.sequence + 1 : old.sequence };
  });
  const kept = new Set(now.map(({ uid }) => uid));
  const gone = before.filter(({ uid }) => !kept.has(uid));
  return [
    ...now,
    ...gone.map((old) => (old.cancelled ? old : { ...old, cancelled: true, sequence: old.sequence + 1 })),
  ];
}
