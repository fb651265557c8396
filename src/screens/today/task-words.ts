import type { TaskLine } from '#questions/today/task-line.ts';
import type { Day } from '#units/calendar-day.ts';
import { dayWords } from '#words/day-words.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../link/this-device.ts';

type Worded = Pick<TaskLine, 'key' | 'words' | 'queens'> & { late?: number | boolean };

/** Tasks whose sentence speaks of their day, and is another once that is past. */
const SAID_LATE: ReadonlySet<string> = new Set(['drone-egg-check', 'drone-brood-out']);

/** What is to be done, in words: a person's own, or those of its kind. */
export function taskWords({ key, words, queens, late }: Worded): string {
  const isLate = late === true || (typeof late === 'number' && late > 0);
  return words ?? sayAny(isLate && SAID_LATE.has(key) ? `task.${key}-late` : `task.${key}`, { queens });
}

/** What to carry for a kind of task; nothing when there is nothing to bring. */
export function carryWords({ key, queens }: { key: string; queens: number }): string {
  const id = `carry.${key}`;
  const words = sayAny(id, { queens });
  return words === `[${id}]` ? '' : words;
}

/** A day counted from insemination day: "I−20", "I", "I+7". */
export function fromIWords(days: number): string {
  if (days === 0) return 'I';
  return days < 0 ? `I−${-days}` : `I+${days}`;
}

/** One day, or the first and last of a window. */
export function spanWords(from: Day, to: Day): string {
  const first = dayWords(from, today());
  return from === to ? first : say('day.span', { from: first, to: dayWords(to, today()) });
}
