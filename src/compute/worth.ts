import { type Evaluation, evaluate } from '#domain/worth/evaluation.ts';
import {
  type EvaluationInput,
  type EvaluationProblem,
  fingerprintOf,
  fingerprintOfAnswer,
  inOneOrder,
} from '#domain/worth/evaluation-input.ts';
import { type AskedWorth, restsOn } from '#domain/worth/rests-on.ts';
import { validateByYear } from '#domain/worth/validate-by-year.ts';
import { type EstimatedVariances, estimateFromInput } from '#domain/worth/variances/estimate.ts';
import { type AskedChange, whatChanged } from '#domain/worth/what-changed.ts';
import type { Progress } from '#ports/compute.ts';
import { pack, unpack } from './kept-run.ts';

/** What a run is kept with: the answer, the fingerprints of both sides as they are, and both sides packed, ready to be kept. */
export type Worked<A> = {
  answer: A;
  fingerprint: string;
  answerFingerprint: string;
  inputBytes: Uint8Array<ArrayBuffer>;
  answerBytes: Uint8Array<ArrayBuffer>;
};
export type WorkedRun = Worked<Evaluation>;
export type WorkedVariances = Worked<EstimatedVariances>;

/** The fingerprints of both sides, as they are. */
export type Fingerprints = Pick<Worked<unknown>, 'fingerprint' | 'answerFingerprint'>;

/** What proves that a run comes out the same again; nothing is packed, and the answer stays where it was worked out. */
const fingerprints = (input: EvaluationInput, answer: object): Fingerprints => ({
  fingerprint: fingerprintOf(input),
  answerFingerprint: fingerprintOfAnswer(answer),
});

/** Fingerprints and packs both sides, so that a page need not. */
function worked<A extends object>(input: EvaluationInput, answer: A): Worked<A> {
  return {
    answer,
    ...fingerprints(input, answer),
    inputBytes: pack(input),
    answerBytes: pack(answer),
  };
}

type Problems = { problems: readonly EvaluationProblem[] };

/** Works worth out and fingerprints it. */
function workedRun(given: EvaluationInput, progress: Progress): WorkedRun | Problems {
  const input = inOneOrder(given);
  const answer = evaluate(input, progress);
  return 'queens' in answer ? worked(input, answer) : answer;
}

/** Estimates variances from an input's own records and fingerprints them; the problems when it cannot stand. */
function workedVariances(
  { input: given, seed }: { input: EvaluationInput; seed: number },
  progress: Progress,
): WorkedVariances | Problems {
  const input = inOneOrder(given);
  const answer = estimateFromInput({ input, seed }, progress);
  return 'usable' in answer ? worked(input, answer) : answer;
}

/** Works a kept run of worth out again, for its fingerprints alone. */
function workedAgain(input: EvaluationInput, progress: Progress): Fingerprints | Problems {
  const answer = evaluate(input, progress);
  return 'queens' in answer ? fingerprints(input, answer) : answer;
}

/** Works a kept estimate of variances out again, for its fingerprints alone. */
function estimatedAgain(kept: { input: EvaluationInput; seed: number }, progress: Progress): Fingerprints | Problems {
  const answer = estimateFromInput(kept, progress);
  return 'usable' in answer ? fingerprints(kept.input, answer) : answer;
}

/** Computations of worth by name. */
export const worthComputations = {
  'evaluation-run': workedRun,
  'evaluation-again': workedAgain,
  'evaluation-fingerprint': (input: EvaluationInput) => fingerprintOf(input),
  'evaluation-rests-on': ({ input, asked }: { input: EvaluationInput; asked: AskedWorth }) => restsOn(input, asked),
  'evaluation-changes': (facts: { before: EvaluationInput; after: EvaluationInput; asked: AskedChange }) =>
    whatChanged(facts.before, facts.after, facts.asked),
  'evaluation-validation': ({ input, year }: { input: EvaluationInput; year: number }) => validateByYear(input, year),
  'variances-run': workedVariances,
  'variances-again': estimatedAgain,
  'kept-runs': (packed: readonly Uint8Array[]) => packed.map(unpack),
};
