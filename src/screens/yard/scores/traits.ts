import { sayAny, type WordId } from '#words/say.ts';

/**
 * The traits a card asks for, each with a sentence for every full number; half points are allowed. The scales 4-1 of gentleness,
 * calmness on the comb and swarming follow Büchler et al. 2013, J. Apic. Res. 52(1), section 3.3 (sentences are our own words).
 */
export const traits = ['gentleness', 'calmness', 'swarming'] as const;
export type Trait = (typeof traits)[number];

export const points = [4, 3.5, 3, 2.5, 2, 1.5, 1] as const;

export const traitName = (trait: string): string => {
  const words = sayAny(`trait.${trait}`);
  return words.startsWith('[') ? trait : words;
};

/** The sentence that anchors a full number; nothing for a half point. */
export const anchorOf = (trait: Trait, point: number): string | null =>
  Number.isInteger(point) ? sayAny(`trait.${trait}.${point}` as WordId) : null;
