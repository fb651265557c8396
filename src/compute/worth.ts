import type { QueenFace } from '#domain/marking/queen-face.ts';
import { type ChangeColumns, changeColumns } from '#domain/worth/changes-told.ts';
import { inputOf, unitsOf, type WorthChoices } from '#domain/worth/choices.ts';
import { type Evaluation, evaluate } from '#domain/worth/evaluation.ts';
import {
  type EvaluationInput,
  type EvaluationProblem,
  fingerprintOf,
  fingerprintOfAnswer,
  inOneOrder,
  parametersOf,
} from '#domain/worth/evaluation-input.ts';
import { type AskedRanking, rankingOf } from '#domain/worth/ranking.ts';
import { type AskedWorth, mostOf, restsOn } from '#domain/worth/rests-on.ts';
import { toldOfRun } from '#domain/worth/run-told.ts';
import { type StockFacts, toldOfStock } from '#domain/worth/stock-told.ts';
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
type Faces = Readonly<Record<string, QueenFace>>;

/** Works worth out and fingerprints it. */
function workedRun(given: EvaluationInput, progress: Progress): Worked<Evaluation> | Problems {
  const input = inOneOrder(given);
  const answer = evaluate(input, progress);
  return 'queens' in answer ? worked(input, answer) : answer;
}

/** Estimates variances from an input's own records and fingerprints them; the problems when it cannot stand. */
function workedVariances(
  { input: given, seed }: { input: EvaluationInput; seed: number },
  progress: Progress,
): Worked<EstimatedVariances> | Problems {
  const input = inOneOrder(given);
  const answer = estimateFromInput({ input, seed }, progress);
  return 'usable' in answer ? worked(input, answer) : answer;
}

/** Works a kept run of worth out again, for its fingerprints alone. */
function workedAgain({ input }: { input: EvaluationInput }, progress: Progress): Fingerprints | Problems {
  const answer = evaluate(input, progress);
  return 'queens' in answer ? fingerprints(input, answer) : answer;
}

/** Works a kept estimate of variances out again, for its fingerprints alone; `null` when its input is lost. */
function estimatedAgain(
  { input, seed }: { input: EvaluationInput | null; seed: number },
  progress: Progress,
): Fingerprints | Problems | null {
  if (input === null) return null;
  const answer = estimateFromInput({ input, seed }, progress);
  return 'usable' in answer ? fingerprints(input, answer) : answer;
}

/** What a run is kept with, for a page: nothing of it is larger than its packed bytes. */
export type ToKeep = Omit<Worked<unknown>, 'answer'> & {
  /** Choices and options, as JSON text. */
  parameters: string;
};
type Chosen = { stock: StockFacts; choices: WorthChoices };

/** Choices, own units of each trait and what is chosen of the input, as a run keeps them. */
const parametersFor = ({ stock, choices }: Chosen, input: EvaluationInput): string => {
  const units = Object.fromEntries(choices.traits.map(({ trait }) => [trait, unitsOf(stock.records, trait)]));
  return JSON.stringify({ choices, units, ...parametersOf(input) });
};

/** Works worth out from a stock and what is chosen; the answer comes packed. */
function runOfStock(chosen: Chosen, progress: Progress): ToKeep | Problems {
  const input = inputOf(chosen.stock, chosen.choices);
  const found = workedRun(input, progress);
  if ('problems' in found) return found;
  const { answer: _, ...kept } = found;
  return { ...kept, parameters: parametersFor(chosen, input) };
}

/** Estimates variances from a stock and what is chosen. */
function variancesOfStock(
  chosen: Chosen & { seed: number },
  progress: Progress,
): (ToKeep & { answer: EstimatedVariances }) | Problems {
  const input = inputOf(chosen.stock, chosen.choices);
  const found = workedVariances({ input, seed: chosen.seed }, progress);
  return 'problems' in found ? found : { ...found, parameters: parametersFor(chosen, input) };
}

type AskedParts = { input: EvaluationInput; asked: AskedWorth; most: number };
type AskedChanges = { before: EvaluationInput | null; after: EvaluationInput | null; asked: AskedChange; most: number };

/** What moved between two runs, in columns; `null` where one of them is lost. */
function movedBetween({ before, after, asked, most }: AskedChanges): ChangeColumns | Problems | null {
  if (before === null || after === null) return null;
  const changes = whatChanged(before, after, asked);
  return Array.isArray(changes) ? changeColumns(changes, most) : (changes as Problems);
}

/** Computations of worth by name. What a page asks (`stock-…`, `run-…`) answers in short: the stock and the run stay with the worker that read them. */
export const worthComputations = {
  'evaluation-again': workedAgain,
  'variances-again': estimatedAgain,
  'kept-runs': (packed: readonly Uint8Array[]) => packed.map(unpack),
  'stock-told': ({ stock }: Pick<Chosen, 'stock'>) => toldOfStock(stock),
  'stock-faces': ({ stock: { faces }, queens }: { stock: { faces: Faces }; queens: readonly string[] }) =>
    Object.fromEntries(queens.flatMap((queen) => (faces[queen] === undefined ? [] : [[queen, faces[queen]]]))),
  'stock-fingerprint': ({ stock, choices }: Chosen) => fingerprintOf(inputOf(stock, choices)),
  'stock-run': runOfStock,
  'stock-variances': variancesOfStock,
  'run-told': ({ answer, input }: { answer: Evaluation | null; input: EvaluationInput | null }) =>
    answer === null || input === null ? null : toldOfRun(answer, input),
  'run-ranking': (facts: { answer: Evaluation | null; stock: { faces: Faces }; asked: AskedRanking }) =>
    facts.answer === null ? null : rankingOf(facts.answer, facts.stock.faces, facts.asked),
  'run-rests-on': ({ input, asked, most }: AskedParts) => {
    const found = restsOn(input, asked);
    return found === null || 'problems' in found ? found : mostOf(found, most);
  },
  'run-changes': movedBetween,
  'run-validation': ({ input, year }: { input: EvaluationInput; year: number }) => validateByYear(input, year),
};
