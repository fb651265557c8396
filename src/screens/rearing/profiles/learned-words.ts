import type { LearnedFigure } from '#domain/rearing/own-records.ts';
import { say } from '#words/say.ts';

/** What a learned figure rests on: "9 batches, 161 of 198". */
export function learnedWords({ key, batches, counted }: LearnedFigure): string {
  if (counted !== null) return say('profiles.learned-from', { batches, ...counted });
  return key.startsWith('timings.')
    ? say('profiles.learned-days', { batches })
    : say('profiles.learned-size', { batches });
}

/** A learned figure as it is kept in a set of one's own. */
export const learnedEntry = (learned: LearnedFigure) => ({
  figure: learned.key,
  value: learned.figure.value,
  low: learned.figure.low,
  high: learned.figure.high,
  source: say('profiles.learned-source', { what: learnedWords(learned) }),
  learned: true,
});
