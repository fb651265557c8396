import type { EvaluationInput, EvaluationProblem } from '../evaluation-input.ts';
import { readyInput } from '../evaluation-input.ts';
import { estimateVariances, type Variances } from './variances.ts';

/** What variances are estimated from, as plain data; the seed (default 1) matters only for stocks too large to factor. */
export type VarianceFacts = { input: EvaluationInput; seed?: number };

/** Most steps of the search, for its progress. */
const MOST_STEPS = 60;

/** {@link estimateVariances} on an input, from its model's own G and R; or everything that is wrong with the input. */
export function variancesOfInput(
  { input, seed }: VarianceFacts,
  progress: (done: number, whole: number) => void = () => undefined,
): Variances | { problems: EvaluationProblem[] } {
  const { ready, problems } = readyInput(input);
  if (ready === null) return { problems };
  const { pedigree, records, model, groups } = ready;
  return estimateVariances(pedigree, records, model, {
    ...(seed !== undefined && { seed }),
    ...(groups && { groups }),
    progress: (iteration) => {
      progress(Math.min(iteration, MOST_STEPS - 1), MOST_STEPS);
      return undefined;
    },
  });
}
