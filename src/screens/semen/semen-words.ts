import type { NamedPart } from '#questions/semen/source-names.ts';
import { hoursBetween, type Moment } from '#units/moment.ts';
import { say } from '#words/say.ts';
import { now } from '../link/this-device.ts';

/** Age of semen in days, from hours through any clock change; never below zero. */
export const ageDays = (since: string): number => Math.max(0, hoursBetween(since as Moment, now()) / 24);

/** "3 hours", "2 days", "5 weeks": the age of semen as it is said; "at least" where nobody knows when it was collected. */
export function ageWords({ since, maybeOlder }: { since: string | null; maybeOlder: boolean }): string {
  if (since === null) return say('semen.age-unknown');
  return maybeOlder ? say('semen.age-at-least', { age: knownAge(since) }) : knownAge(since);
}

function knownAge(since: string): string {
  const days = ageDays(since);
  if (days < 2) return say('semen.age-hours', { n: Math.round(days * 24) });
  if (days < 21) return say('semen.age-days', { n: Math.round(days) });
  return say('semen.age-weeks', { n: Math.round(days / 7) });
}

/** One mother with her line; strangers are called so. */
export const partName = ({ kind, name }: NamedPart): string => (kind === 'open' ? say('semen.strangers') : name);

/** Mothers in words, with shares where there are several. */
export function partsWords(parts: readonly NamedPart[]): string {
  if (parts.length === 0) return say('semen.nobody-knows');
  const shown = parts.slice(0, 4).map((part) => {
    const name = partName(part);
    return parts.length > 1 ? `${name} ${Math.round(part.share * 100)}\u2009%` : name;
  });
  return parts.length > 4 ? `${shown.join(' + ')} …` : shown.join(' + ');
}

/** The time of a moment as it was on the clock there: `12 Jun 14:05`. */
export const clockOf = (moment: string): string => moment.slice(11, 16);
