import type { Day } from '#units/calendar-day.ts';
import { epochOf, type Moment, momentAt, momentOn } from '#units/moment.ts';
import { type RecordId, uuid7 } from '#units/record-id.ts';

/** The zone this device is set to. */
export const zone = (): string => Intl.DateTimeFormat().resolvedOptions().timeZone || 'UTC';

const AHEAD = 'combwright.ahead';

/**
 * Sets this device's clock to another day, for a demonstration or a test (`?today=2027-06-12`, `?today=2027-06-12T09:30`), until
 * the window is closed. Without a time it keeps this time of day.
 */
export function setClock(to: string): void {
  const time = to.slice(11) || momentAt(Date.now(), zone()).slice(11, 23);
  const ahead = epochOf(momentOn(to.slice(0, 10) as Day, time, zone())) - Date.now();
  sessionStorage.setItem(AHEAD, String(ahead));
}

/** How far this device's clock is set ahead of the real one, milliseconds; read once a page, because the bench asks often. */
let ahead: number | null = null;

/** Milliseconds since 1970 (UTC) by this device's clock. */
export function clock(): number {
  ahead ??= Number(sessionStorage.getItem(AHEAD) ?? 0);
  return Date.now() + ahead;
}

/** Now, by this device's clock. */
export const now = (): Moment => momentAt(clock(), zone());

/** Today's calendar day by this device's clock. */
export const today = (): Day => now().slice(0, 10) as Day;

/** A new id; works also on plain http, where `crypto.randomUUID` does not. */
export function newId(): RecordId {
  const random = new Uint8Array(10);
  crypto.getRandomValues(random);
  return uuid7(Date.now(), random);
}

/** The name of this device among others, made once. */
export function deviceId(): string {
  const kept = localStorage.getItem('combwright.device');
  if (kept !== null) return kept;
  const made = newId();
  localStorage.setItem('combwright.device', made);
  return made;
}
