/**
 * From what was seen in a test yard to one value a colony, trait and season, as the performance-testing standard has it (Büchler and others 2013,
 * J Apic Res 52(1), 10.3896/IBRA.1.52.1.07, cited as B13), and the transforms under which such values are closer to normal.
 */

const mean = (values: readonly number[]): number | null =>
  values.length === 0 ? null : values.reduce((sum, v) => sum + v, 0) / values.length;

/**
 * Gentleness or calmness of a season: the mean of all scores 1-4, half points allowed (B13 § 3.3.2). null without scores.
 * @example behaviour([3, 4, 3.5]) // 3.5
 */
export const behaviour = (scores: readonly number[]): number | null => mean(scores);

/**
 * Swarming of a season: the lowest score 1-4 (B13 § 3.3.3); 1 = swarmed. null without scores.
 * @example swarming([4, 1, 3]) // 1
 */
export const swarming = (scores: readonly number[]): number | null =>
  scores.length === 0 ? null : Math.min(...scores);

/**
 * Honey of a season in kg: the sum of the harvests (B13 § 3.3.1). null when nothing was weighed; a harvest of 0 is a record.
 * @example honey([12.5, 0, 20]) // 32.5
 */
export const honey = (harvests: readonly number[]): number | null =>
  harvests.length === 0 ? null : harvests.reduce((sum, kg) => sum + kg, 0);

/**
 * Overwintering index: bees at the end of winter over bees before it (B13 § 3.3.7); null when there were none before.
 * @example wintering(10, 8) // 0.8
 */
export const wintering = (before: number, after: number): number | null => (before > 0 ? after / before : null);

/**
 * Part of pierced or frozen brood removed, 0-1: emptied cells less those empty at the start, over cells capped at the start. null without capped cells.
 * @example removal({ capped: 50, emptyBefore: 2, emptyAfter: 47 }) // 0.9
 */
export const removal = (cells: { capped: number; emptyBefore: number; emptyAfter: number }): number | null =>
  cells.capped > 0 ? Math.min(1, Math.max(0, (cells.emptyAfter - cells.emptyBefore) / cells.capped)) : null;

/**
 * Daily growth of an infestation, ln(m₂/m₁)/days; null unless both counts are above 0 and days pass.
 * @example miteGrowth(10, 20, 30) // Math.log(2) / 30
 */
export const miteGrowth = (first: number, second: number, days: number): number | null =>
  first > 0 && second > 0 && days > 0 ? Math.log(second / first) / days : null;

/**
 * A part 0-1 on the angular scale, arcsin √p, in radians (Fisher 1922): its variance depends less on p.
 * @example angular(0.25) // Math.PI / 6
 */
export const angular = (part: number): number => Math.asin(Math.sqrt(Math.min(1, Math.max(0, part))));

/**
 * Logarithm of a count or a rate plus one: counts of mites are far from normal.
 * @example logCount(0) // 0
 */
export const logCount = (count: number): number => Math.log(count + 1);

/**
 * Scores of one tester spread as everyone's: (score − tester's mean) · (all testers' standard deviation / the tester's) + all testers' mean. A tester who gave
 * always the same score says nothing and gives null.
 * @example asOthersScore(4, { mean: 3, sd: 0.5 }, { mean: 2.5, sd: 1 }) // 4.5
 */
export function asOthersScore(
  score: number,
  tester: { mean: number; sd: number },
  all: { mean: number; sd: number },
): number | null {
  return tester.sd > 0 ? ((score - tester.mean) * all.sd) / tester.sd + all.mean : null;
}
