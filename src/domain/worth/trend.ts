import { yearOfDayNumber } from '../pedigree/day-number.ts';
import type { Pedigree } from '../pedigree/laid-pedigree.ts';
import type { BreedingValues } from './breeding-values.ts';

/** A birth year of a trend: mean worth as mother of queens of the queens born then, and how far they lie apart (their standard deviation). */
export type TrendYear = { year: number; queens: number; mean: number; sd: number };

/**
 * Means by year, in order, in the unit of the values; what has no year is left out. The deviation (n − 1 in the denominator) of a single queen is 0. Without
 * values no year.
 * @example trendOfYears([{ year: 2026, value: 1 }, { year: 2026, value: 3 }]) // [{ year: 2026, queens: 2, mean: 2, sd: Math.SQRT2 }]
 */
export function trendOfYears(of: readonly { year: number | null; value: number }[]): TrendYear[] {
  const byYear = new Map<number, number[]>();
  for (const { year, value } of of)
    if (year !== null) {
      const known = byYear.get(year);
      if (known === undefined) byYear.set(year, [value]);
      else known.push(value);
    }
  return [...byYear]
    .sort(([a], [b]) => a - b)
    .map(([year, values]) => {
      const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
      const squares = values.reduce((sum, v) => sum + (v - mean) ** 2, 0);
      return { year, queens: values.length, mean, sd: Math.sqrt(squares / Math.max(1, values.length - 1)) };
    });
}

/**
 * Mean worth as mother of queens by year of birth, for one trait, in its unit; queens without a day of birth are left out, a trait not in the values gives no
 * year. The values must be those of this very pedigree, in its order. Means of predicted values as genetic trend: Henderson and others 1959, Biometrics 15:192
 * (from memory).
 * @example const { pedigree, records, model } = workedPrepared();
 * trendOf(pedigree, breedingValues(pedigree, records, model), 'honey')[2] // { year: 2024, queens: 4, mean: 0.2985 }; (1.146 + 0.948 − 0.202 − 0.698) / 4
 */
export function trendOf(pedigree: Pedigree, values: BreedingValues, trait: string): TrendYear[] {
  const worth = values.queens.filter((one) => one.trait === trait);
  return trendOfYears(
    worth.map((one, queen) => ({
      year: yearOfDayNumber(pedigree.stock.columns.born[queen] as number),
      value: one.asMotherOfQueens,
    })),
  );
}

/**
 * Values counted from a named reference cohort: the mean of its queens becomes 0 in every criterion and trait, so that a new run does not move old numbers
 * only because the base moved. `at` is the place in `values.queens`. Error variances and reliabilities stay as they are, pools, groups and levels too. An
 * empty cohort changes nothing.
 * @example const { pedigree, records, model } = workedPrepared();
 * countedFrom(breedingValues(pedigree, records, model), (queen) => queen === 'A').queens[1].asMotherOfQueens // -1.96897; B: −0.83853 − 1.13045
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
