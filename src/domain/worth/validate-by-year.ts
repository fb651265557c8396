import { type EvaluationInput, type EvaluationProblem, prepareEvaluation } from './evaluation-input.ts';
import { type Validation, validate } from './validation.ts';

/**
 * Fewer queens than this left out say nothing about the others: the figures would move by more than they tell (Legarra and Reverter 2018 take
 * hundreds).
 */
export const FEWEST_FOCAL = 50;

/**
 * How the worth of queens born in a year, told without their records, agrees with the worth told with them, by trait; or why that was not worked
 * out.
 */
export type YearCheck =
  | { year: number; traits: Validation[] }
  /** Why it was not worked out: too few recorded queens born that year, or nothing left to predict from. */
  | { year: number; refused: 'few-focal' | 'nothing-left'; focal: number };

/**
 * The years of birth with recorded queens, each with how many, the newest first; queens without a year are left out.
 * @example focalYears(workedInput) // [{ year: 2024, queens: 4 }, { year: 2023, queens: 2 }]
 */
export function focalYears({ records, years = {} }: EvaluationInput): { year: number; queens: number }[] {
  const counts = new Map<number, number>();
  for (const queen of new Set(records.map((row) => row.queen))) {
    const year = years[queen];
    if (year !== undefined) counts.set(year, (counts.get(year) ?? 0) + 1);
  }
  return [...counts].sort(([a], [b]) => b - a).map(([year, queens]) => ({ year, queens }));
}

/**
 * Leaves the records of queens born in a year or later out and compares, trait by trait ({@link validate}); refuses with its reason when fewer than {@link
 * FEWEST_FOCAL} queens would be compared, or when nothing older is left to predict from. `problems` when the input cannot be evaluated.
 * @param year calendar year of birth
 * @example validateByYear(workedInput, 2024) // { year: 2024, refused: 'few-focal', focal: 4 }
 */
export function validateByYear(
  input: EvaluationInput,
  year: number,
): YearCheck | { problems: readonly EvaluationProblem[] } {
  const focal = focalYears(input).find((one) => one.year === year)?.queens ?? 0;
  if (focal < FEWEST_FOCAL) return { year, refused: 'few-focal', focal };
  const prepared = prepareEvaluation(input);
  if ('problems' in prepared) return prepared;
  const { pedigree, records, model, groups } = prepared;
  const { names } = pedigree.stock;
  const bornIn = (queen: number) => input.years?.[names.queenId(queen)] ?? null;
  const found = validate(pedigree, records, model, year, { bornIn, ...(groups === undefined ? {} : { groups }) });
  return found === null ? { year, refused: 'nothing-left', focal } : { year, traits: found };
}
