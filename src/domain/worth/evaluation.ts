/**
 * One call from records to everything a page shows: breeding values with their reliability, one index of several traits, the trend by year of birth, and
 * what has to be said about the yards.
 *
 * ```ts
 * const answer = evaluate({ pedigree: facts, records, model, weights: { honey: 1, calm: 8 } });
 * if (answer.problems.length > 0) answer.problems.map(sayEvaluationProblem);
 * ```
 */
import { sayAssumption } from '../pedigree/assumption.ts';
import type { Pedigree } from '../pedigree/laid-pedigree.ts';
import { assumptionsOf } from '../pedigree/pedigree.ts';
import { NO_DAY } from '../pedigree/stock.ts';
import { type BreedingOptions, type BreedingValues, breedingValues, MOST_FOR_EXACT } from './breeding-values.ts';
import { type Connectedness, connectedness } from './connectedness.ts';
import { type EvaluationInput, type EvaluationProblem, type ReadyInput, readyInput } from './evaluation-input.ts';
import { weighed } from './selection-index.ts';
import { countedFrom, type TrendYear, trendOf } from './trend.ts';
import { type Validation, validate } from './validation.ts';

/** Something a reader of the numbers has to know; `text` is an English sentence with its advice. */
export type EvaluationWarning = { code: string; text: string };

export type Evaluation = {
  problems: [];
  /** Queens stand in it by their codes. */
  values: BreedingValues;
  /** Id of each queen of the stock: `values.queens[k]` is queen `queenIds[floor(k / traits)]`. */
  queenIds: string[];
  index: { queen: string; value: number; reliability: number | null }[] | null;
  /** By trait. */
  trend: Record<string, TrendYear[]>;
  connectedness: Connectedness;
  assumptions: string[];
  warnings: EvaluationWarning[];
};

/** Steps of long work: `done` of `whole`. */
type Progress = (done: number, whole: number) => void;

/** Out of 100: laid out, solved; what is left is for the reliabilities. */
const LAID = 5;
const SOLVED = 40;

/** Evaluates every queen of the stock, or answers everything that is wrong with the input. The same input gives the same bits. */
export function evaluate(
  input: EvaluationInput,
  progress: Progress = () => undefined,
): Evaluation | { problems: EvaluationProblem[] } {
  const { ready, problems } = readyInput(input);
  if (ready === null) return { problems };
  progress(LAID, 100);
  const { pedigree, records, model } = ready;
  const found = breedingValues(pedigree, records, model, optionsOf(input, ready, progress));
  const { names, columns } = pedigree.stock;
  const queenIds = Array.from({ length: columns.queens }, (_, queen) => names.queenId(queen));
  const values = countedFromIds(found, queenIds, input);
  const hangs = connectedness(pedigree, records);
  progress(100, 100);
  return {
    problems: [],
    values,
    queenIds,
    index: indexOf(values, queenIds, input),
    trend: Object.fromEntries(model.traits.map((trait) => [trait, trendOf(pedigree, values, trait)])),
    connectedness: hangs,
    assumptions: assumptionsOf(pedigree).map(sayAssumption),
    warnings: warningsOf(values, hangs, ready),
  };
}

function optionsOf(input: EvaluationInput, { groups, model }: ReadyInput, progress: Progress): BreedingOptions {
  return {
    ...(input.reliability && { reliability: input.reliability }),
    ...(groups && { groups }),
    ...(input.weights && { weights: model.traits.map((trait) => input.weights?.[trait] ?? 0) }),
    progress: (_, residual) => {
      const part = Math.min(1, Math.max(0, -Math.log10(residual) / 10));
      progress(LAID + Math.round((SOLVED - LAID) * part), 100);
      return undefined;
    },
    certaintyProgress: (done, whole) => progress(SOLVED + Math.floor((99 - SOLVED) * (done / whole)), 100),
  };
}

/** Values counted from the reference cohort of an input, who are named by id. */
export function countedFromIds(
  values: BreedingValues,
  queenIds: readonly string[],
  { reference, model }: Pick<EvaluationInput, 'reference' | 'model'>,
): BreedingValues {
  if (reference === undefined || reference.length === 0) return values;
  const wanted = new Set(reference);
  const t = model.traits.length;
  return countedFrom(values, (_, k) => wanted.has(queenIds[Math.floor(k / t)] as string));
}

function indexOf(
  values: BreedingValues,
  queenIds: readonly string[],
  { weights, model }: EvaluationInput,
): Evaluation['index'] {
  if (weights === undefined) return null;
  const t = model.traits.length;
  return queenIds.map((queen, i) => {
    const worth = Object.fromEntries(
      model.traits.map((trait, k) => [trait, values.queens[i * t + k]?.asMotherOfQueens ?? 0]),
    );
    return { queen, value: weighed(worth, weights), reliability: values.indexReliability?.[i] ?? null };
  });
}

const FEW_RECORDS = 30;

function warningsOf(values: BreedingValues, hangs: Connectedness, ready: ReadyInput): EvaluationWarning[] {
  const { pedigree, records, model } = ready;
  const out: EvaluationWarning[] = [];
  const say = (code: string, text: string) => out.push({ code, text });
  if (records.count < FEW_RECORDS)
    say(
      'few-records',
      `${records.count} records: most of what stands here comes from the model, not from the colonies; the reliabilities say how much`,
    );
  if (hangs.alone.length > 0 && model.random === undefined)
    say(
      'alone-in-yard-year',
      `${hangs.alone.length} of the yard-years hold one colony (${some(hangs.alone)}): such a record tells nothing; test at least 8 together, or take yard-years as random`,
    );
  if (hangs.sets.length > 1)
    say(
      'yards-not-connected',
      `the yards fall into ${hangs.sets.length} sets without a family in common (${hangs.sets
        .map((set) => some(set))
        .slice(0, 3)
        .join(' | ')}): do not compare queens across them; test daughters of one dam or one batch in both`,
    );
  if (values.reliability === 'approximate')
    say(
      'reliability-approximate',
      `reliabilities are approximate beyond ${MOST_FOR_EXACT} queens: beside exact ones they were on average .01 away`,
    );
  if (withoutDays(pedigree) > 0)
    say('days-not-known', `${withoutDays(pedigree)} queens have no day of birth and stand in no year of the trend`);
  return out;
}

const some = (names: readonly string[]): string =>
  names.length <= 3 ? names.join(', ') : `${names.slice(0, 3).join(', ')} and ${names.length - 3} more`;

function withoutDays({ stock: { columns } }: Pedigree): number {
  return columns.born.reduce((sum, day) => sum + (day === NO_DAY ? 1 : 0), 0);
}

/**
 * {@link validate} on an input: the records of queens born in `year` or later left out. null when fewer than three were recorded, or when the input cannot be
 * evaluated at all ({@link evaluate} says why).
 */
export function validateByYear(input: EvaluationInput, year: number): Validation[] | null {
  const { ready } = readyInput(input);
  return ready === null ? null : validate(ready.pedigree, ready.records, ready.model, year);
}
