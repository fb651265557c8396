import type { Factor } from '#questions/yard/lessons.ts';
import { say, sayAny } from '#words/say.ts';

export const factorName = (factor: Factor): string => sayAny(`factor.${factor}`);

/** "tip 3", "5 days stored", "Mira" for an operator, "not written down". */
export function groupName(by: Factor, group: string | null): string {
  if (group === null) return say('lessons.not-written');
  if (by === 'care')
    return group
      .split('+')
      .map((form) => sayAny(`nursing.form.${form}`))
      .join(', ');
  const words = sayAny(`group.${by}`, { value: group });
  return words.startsWith('[') ? group : words;
}

/** A sentence begins with a capital. */
export const sentence = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

/** Counts first; a share is only said beside its counts. */
export const percent = (share: number): string => `${Math.round(share * 100)}\u00a0%`;

/** "likely between 45 % and 94 %", or nothing where nothing is known. */
export function spreadWords({ low, high }: { low: number | null; high: number | null }): string {
  return low === null || high === null ? '' : say('lessons.spread', { low: percent(low), high: percent(high) });
}
