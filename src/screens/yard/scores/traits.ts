import { daysOfTest } from '#domain/scoring/reading-warnings.ts';
import { ruleOf, STRENGTH } from '#domain/scoring/trait.ts';
import { language, say, sayAny, type WordId } from '#words/say.ts';

/** Traits judged by the steps of an anchored scale (Büchler et al. 2013, J. Apic. Res. 52(1), section 3.3; the sentences are our own). */
export const scaleTraits = ['gentleness', 'calmness', 'swarming'] as const;
export type ScaleTrait = (typeof scaleTraits)[number];

/** What a visit can read, in the order it is asked for; behaviour stands for the three scales. */
export const readables = [
  'behaviour',
  'hygiene',
  'hygiene-frost',
  'solidness',
  'mites',
  'mite-fall',
  'honey',
  STRENGTH,
] as const;
export type Readable = (typeof readables)[number];

export const traitName = (trait: string): string => {
  const words = sayAny(`trait.${trait}`);
  return words.startsWith('[') ? trait : words;
};

/** The sentence that anchors a full number; nothing for a half step. */
export const anchorOf = (trait: ScaleTrait, step: number): string | null =>
  Number.isInteger(step) ? sayAny(`trait.${trait}.${step}` as WordId) : null;

const unitOf = (trait: string) => (trait === STRENGTH ? 'combs' : ruleOf(trait).unit);

/** A number of the trait, without its unit: parts in hundredths, points with their half, growth with four places. */
export function figureOf(trait: string, value: number): string {
  const unit = unitOf(trait);
  const digits = unit === 'part' ? 0 : unit === 'growth' ? 4 : unit === 'ratio' ? 2 : 1;
  const shown = unit === 'part' ? 100 * value : value;
  return new Intl.NumberFormat(language(), { maximumFractionDigits: digits, useGrouping: false }).format(shown);
}

/** A value in words with its unit: "4 to 100 bees", "83 in 100". */
export const valueWords = (trait: string, value: number): string =>
  sayAny(`score.unit.${unitOf(trait)}`, { value: figureOf(trait, value) });

/** The value with the range its count leaves open. */
export function readingWords(
  trait: string,
  { value, range }: { value: number; range: { low: number; high: number } | null },
): string {
  if (range === null) return valueWords(trait, value);
  return say('score.comes-to-range', {
    value: valueWords(trait, value),
    low: figureOf(trait, range.low),
    high: figureOf(trait, range.high),
  });
}

/** How a brood test is begun, with the day it is counted. */
export const testHow = (method: 'pin' | 'freeze'): string => say('score.test-how', { usual: daysOfTest(method) });
