import type { Day } from '#units/calendar-day.ts';
import { dayWords } from '#words/day-words.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../link/this-device.ts';

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
