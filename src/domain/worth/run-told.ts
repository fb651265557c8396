/** A run told without its queens and records: what stands beside a ranking, however large the stock. */
import { inShort } from '../pedigree/assumption.ts';
import type { Evaluation } from './evaluation.ts';
import type { EvaluationInput } from './evaluation-input.ts';
import { focalYears } from './validate-by-year.ts';

/**
 * The answer of a run without its queens, levels and connectedness, its assumptions in short, and the years of birth that can be left out of it, each
 * with its recorded queens.
 */
export type RunTold = Omit<Evaluation, 'queens' | 'levels' | 'connectedness' | 'assumptions'> & {
  assumptions: ReturnType<typeof inShort> & { n: number };
  focal: ReturnType<typeof focalYears>;
};

/**
 * A run told in short, for the answer of that very input; values in the traits' units as in the answer.
 * @example toldOfRun(evaluate(workedInput), workedInput).focal // [{ year: 2024, queens: 4 }, { year: 2023, queens: 2 }]
 */
export function toldOfRun(answer: Evaluation, input: EvaluationInput): RunTold {
  const { queens: _queens, levels: _levels, connectedness: _connectedness, assumptions, ...told } = answer;
  return { ...told, assumptions: { ...inShort(assumptions), n: assumptions.length }, focal: focalYears(input) };
}
