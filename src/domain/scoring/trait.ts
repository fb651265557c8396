/**
 * The traits of a performance test: how each is read, what a season of readings comes to, and on which scale it is evaluated.
 * Scales and season rules of Büchler and others 2013 (J. Apic. Res. 52(1), 10.3896/IBRA.1.52.1.07, cited as B13); the sentences that
 * anchor each step are our own (words/en/scores.ts).
 */
import { angular, behaviour, honey, logCount, swarming } from '../worth/traits/season-values.ts';

/** How a trait is read in the yard: a step of an anchored scale, a count among a count, kilograms, combs, or worked out from others. */
export type ReadAs = 'steps' | 'cells' | 'mites' | 'fall' | 'kilograms' | 'combs' | 'worked-out';

/** What one unit of the trait is. `part` 0-1; `growth` natural logarithm a day. */
export type TraitUnit = 'points' | 'part' | 'per-100-bees' | 'per-day' | 'kg' | 'combs' | 'ratio' | 'growth';

/** The scale a season's value is evaluated on. */
export type EvaluationScale = 'as-it-is' | 'angular' | 'logarithm';

export type TraitRule = {
  name: string;
  unit: TraitUnit;
  readAs: ReadAs;
  better: 'more' | 'less';
  /** One value from all readings of a season that count; `null` without any. */
  season: (values: readonly number[]) => number | null;
  scale: EvaluationScale;
  /** Readings a season below which its value is shaky; 4 for behaviour (B13 § 3.1.4), 2 repeats for a brood test (B13 § 3.3.5). */
  enough: number;
};

const mean = behaviour;

const rule = (
  name: string,
  [readAs, unit]: readonly [ReadAs, TraitUnit],
  more: Partial<Pick<TraitRule, 'better' | 'season' | 'scale' | 'enough'>> = {},
): TraitRule => ({ name, readAs, unit, better: 'more', season: mean, scale: 'as-it-is', enough: 1, ...more });

/** The traits the book knows, in the order they are shown. Brood tests with a pin and with frost differ (B13 § 3.3.5), so they are two traits. */
export const traitRules: readonly TraitRule[] = [
  rule('gentleness', ['steps', 'points'], { enough: 4 }),
  rule('calmness', ['steps', 'points'], { enough: 4 }),
  rule('swarming', ['steps', 'points'], { season: swarming, enough: 4 }),
  rule('honey', ['kilograms', 'kg'], { season: honey }),
  rule('hygiene', ['cells', 'part'], { scale: 'angular', enough: 2 }),
  rule('hygiene-frost', ['cells', 'part'], { scale: 'angular', enough: 2 }),
  rule('solidness', ['cells', 'part'], { scale: 'angular', enough: 2 }),
  rule('mites', ['mites', 'per-100-bees'], { better: 'less', scale: 'logarithm', enough: 2 }),
  rule('mite-fall', ['fall', 'per-day'], { better: 'less', scale: 'logarithm' }),
  rule('mite-growth', ['worked-out', 'growth'], { better: 'less' }),
  rule('wintering', ['worked-out', 'ratio']),
];

/** Combs of bees: read before and after winter, and never a trait of its own. */
export const STRENGTH = 'strength';

/** The steps of an anchored scale, best first (B13 § 3.3.2). */
export const allSteps: readonly number[] = [4, 3.5, 3, 2.5, 2, 1.5, 1];

const byName = new Map(traitRules.map((each) => [each.name, each]));

/** The rule of a trait; one the book does not know (a column of a table) counts by its mean, as it is. */
export const ruleOf = (name: string): TraitRule => byName.get(name) ?? rule(name, ['worked-out', 'points']);

/** A season's value on the scale it is evaluated on: as it is, arcsin √p, or ln(1 + x). */
export function onScale(name: string, value: number): number {
  const { scale } = ruleOf(name);
  if (scale === 'angular') return angular(value);
  return scale === 'logarithm' ? logCount(Math.max(0, value)) : value;
}

/** Back from the evaluation's scale to the trait's own unit. */
export function offScale(name: string, scaled: number): number {
  const { scale } = ruleOf(name);
  if (scale === 'angular') return Math.sin(Math.min(Math.PI / 2, Math.max(0, scaled))) ** 2;
  return scale === 'logarithm' ? Math.exp(scaled) - 1 : scaled;
}

/**
 * Units of the trait in one unit of the evaluation's scale, at a mean in the trait's unit: the slope there (delta method), so that a worth
 * and its spread can be told in the trait's own unit. dp/dθ = 2√(p(1−p)) for p = sin²θ; dx/dy = 1 + x for y = ln(1 + x).
 * Parts are held off 0 and 1 by a hundredth, where the slope would vanish.
 * @example unitsAt('hygiene', 0.5) // 1
 * @example unitsAt('mites', 3) // 4
 */
export function unitsAt(name: string, mean: number): number {
  const { scale } = ruleOf(name);
  if (scale === 'angular') {
    const part = Math.min(0.99, Math.max(0.01, mean));
    return 2 * Math.sqrt(part * (1 - part));
  }
  return scale === 'logarithm' ? 1 + Math.max(0, mean) : 1;
}
