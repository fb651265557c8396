import { yearOfDayNumber } from '../pedigree/day-number.ts';
import type { Pedigree } from '../pedigree/laid-pedigree.ts';
import type { BreedingValues } from './breeding-values.ts';

/** A birth year of a trend: mean worth as mother of queens of the queens born then. */
export type TrendYear = { year: number; queens: number; mean: number };

/** Mean worth as mother of queens by year of birth, for one trait; queens without a day of birth are left out. */
export function trendOf(pedigree: Pedigree, values: BreedingValues, trait: string): TrendYear[] {
  const byYear = new Map<number, { sum: number; queens: number }>();
  const worth = values.queens.filter((one) => one.trait === trait);
  for (const [queen, one] of worth.entries()) {
    const year = yearOfDayNumber(pedigree.stock.columns.born[queen] as number);
    if (year === null) continue;
    const known = byYear.get(year) ?? { sum: 0, queens: 0 };
    byYear.set(year, { sum: known.sum + one.asMotherOfQueens, queens: known.queens + 1 });
  }
  return [...byYear].sort(([a], [b]) => a - b).map(([year, { sum, queens }]) => ({ year, queens, mean: sum / queens }));
}

/**
 * Values counted from a named reference cohort: the mean of its queens becomes 0 in every criterion, so that a new run does not move old numbers only
 * because the base moved. `at` is the place in `values.queens`. Error variances stay as they are. An empty cohort changes nothing.
 */
export function countedFrom(
  values: BreedingValues,
  isReference: (queen: string, at: number) => boolean,
): BreedingValues {
  const criteria = ['workerEffect', 'queenEffect', 'asMotherOfQueens', 'asDroneMother', 'asColony'] as const;
  const traits = [...new Set(values.queens.map((one) => one.trait))];
  const reference = values.queens.filter((one, at) => isReference(one.queen, at));
  const base = new Map(
    traits.map((trait) => {
      const cohort = reference.filter((one) => one.trait === trait);
      const mean = (key: (typeof criteria)[number]) =>
        cohort.length === 0 ? 0 : cohort.reduce((sum, one) => sum + one[key], 0) / cohort.length;
      return [
        trait,
        Object.fromEntries(criteria.map((key) => [key, mean(key)])) as Record<(typeof criteria)[number], number>,
      ];
    }),
  );
  const queens = values.queens.map((one) => {
    const shift = base.get(one.trait);
    return shift === undefined
      ? one
      : { ...one, ...Object.fromEntries(criteria.map((key) => [key, one[key] - shift[key]])) };
  });
  return { ...values, queens };
}
