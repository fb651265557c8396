import type { LayingCheck } from '#domain/living/check.ts';
import type { DaySpan } from '#domain/living/day-span.ts';
import type { NextLook } from '#domain/living/next-look.ts';
import { dayWords, shortDay } from '#words/day-words.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../link/this-device.ts';

type Seen = Pick<LayingCheck, 'sights' | 'queenSeen'>;

/** What a look showed, in words: "Eggs, queen seen". */
export function lookWords({ sights, queenSeen }: Seen): string {
  const seen = queenSeen === null ? [] : [sayAny(`sight.seen.${queenSeen}`)];
  const words = [...sights.map((sight) => sayAny(`sight.${sight}`)), ...seen].join(', ');
  return words.charAt(0) + words.slice(1).toLowerCase();
}

/** What is to be looked for, and from when on: "look for eggs, since Sat 19 Jun". */
export function nextWords(next: NextLook | null): string {
  if (next === null) return say('colony.nothing-next');
  const what = sayAny(`colony.next.${next.key}`);
  if (next.key === 'decide' || next.key === 'confirm') return what;
  const day = dayWords(next.from, today());
  const when = next.from <= today() ? say('colony.next-since', { day }) : say('colony.next-from', { day });
  return say('colony.next-on', { what, when });
}

/** A day, or the two days it lies between. */
export function daySpanWords(span: DaySpan): string {
  if (span.earliest === span.latest) return shortDay(span.latest);
  return say('colony.between', { from: shortDay(span.earliest), to: shortDay(span.latest) });
}
