import { type Evaluation, evaluate } from '#domain/worth/evaluation.ts';
import {
  type EvaluationInput,
  type EvaluationProblem,
  fingerprintOf,
  fingerprintOfAnswer,
  inOneOrder,
  prepareEvaluation,
} from '#domain/worth/evaluation-input.ts';
import { type AskedWorth, restsOn } from '#domain/worth/rests-on.ts';
import { validateByYear } from '#domain/worth/validate-by-year.ts';
import { estimateVariances } from '#domain/worth/variances/variances.ts';
import { type AskedChange, whatChanged } from '#domain/worth/what-changed.ts';
import type { Progress } from '#ports/compute.ts';

/** Variances estimated from an input's own records; the problems when it cannot stand. */
function variances({ input, seed }: { input: EvaluationInput; seed: number }, progress: Progress) {
  const prepared = prepareEvaluation(input);
  if ('problems' in prepared) return prepared;
  const { pedigree, records, model, groups } = prepared;
  progress(0, 1);
  const answer = estimateVariances(pedigree, records, model, { seed, ...(groups === undefined ? {} : { groups }) });
  progress(1, 1);
  return answer;
}

/** What a run is kept with: the answer, its fingerprints, and both sides as text ready to be kept. */
export type WorkedRun = {
  answer: Evaluation;
  fingerprint: string;
  answerFingerprint: string;
  inputText: string;
  answerText: string;
};

/** Works out and fingerprints, so that a page need not. */
function workedRun(given: EvaluationInput, progress: Progress): WorkedRun | { problems: readonly EvaluationProblem[] } {
  const input = inOneOrder(given);
  const answer = evaluate(input, progress);
  if (!('queens' in answer)) return answer;
  return {
    answer,
    fingerprint: fingerprintOf(input),
    answerFingerprint: fingerprintOfAnswer(answer),
    inputText: JSON.stringify(input),
    answerText: JSON.stringify(answer),
  };
}

/** Computations of worth by name. */
export const worthComputations = {
  'evaluation-run': workedRun,
  'evaluation-fingerprint': (input: EvaluationInput) => fingerprintOf(input),
  'evaluation-rests-on': ({ input, asked }: { input: EvaluationInput; asked: AskedWorth }) => restsOn(input, asked),
  'evaluation-changes': (facts: { before: EvaluationInput; after: EvaluationInput; asked: AskedChange }) =>
    whatChanged(facts.before, facts.after, facts.asked),
  'evaluation-validation': ({ input, year }: { input: EvaluationInput; year: number }) => validateByYear(input, year),
  variances,
};
