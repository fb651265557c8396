import type { Day } from '#units/calendar-day.ts';
import { type Moment, momentAt, momentOn } from '#units/moment.ts';
import { type RecordId, uuid7 } from '#units/record-id.ts';

/** The zone this device is set to. */
export const zone = (): string => Intl.DateTimeFormat().resolvedOptions().timeZone || 'UTC';

/** A fixed day, for a demonstration or a test (`?today=`). */
const fixedDay = (): string | null => sessionStorage.getItem('combwright.today');

/** Now, on this device; on a fixed day, this time of day. */
export function now(): Moment {
  const real = momentAt(Date.now(), zone());
  const fixed = fixedDay();
  return fixed === null ? real : momentOn(fixed as Day, real.slice(11, 23), zone());
}

/** Today's calendar day on this device. A fixed day can be set for a demonstration or a test (`?today=`). */
export const today = (): Day => (fixedDay() ?? now().slice(0, 10)) as Day;

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
