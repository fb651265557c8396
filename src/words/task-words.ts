import { sayAny } from './say.ts';

/** A task as far as its sentence needs it: late by so many days, or late at all. */
type Worded = { key: string; words: string | null; queens: number; late?: number | boolean };

/** Tasks whose sentence speaks of their day, and is another once that is past. */
const SAID_LATE: ReadonlySet<string> = new Set(['drone-egg-check', 'drone-brood-out']);

/** What is to be done, in words: a person's own, or those of its kind; once its day is past, those for a task that is late. */
export function taskWords({ key, words, queens, late }: Worded): string {
  const isLate = late === true || (typeof late === 'number' && late > 0);
  return words ?? sayAny(isLate && SAID_LATE.has(key) ? `task.${key}-late` : `task.${key}`, { queens });
}
