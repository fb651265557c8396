/** What a stored run keeps so that anybody can see later whether it is the same run. */
import { sha256 } from '#numeric/hash/sha-256.ts';
import type { Evaluation } from './evaluation.ts';
import { type EvaluationInput, type PlainModel, plainInput } from './evaluation-input.ts';

/** The same thing always in the same words: keys sorted, what is left out left out. */
function canonical(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonical).join()}]`;
  if (typeof value !== 'object' || value === null)
    return Object.is(value, -0) ? '0' : (JSON.stringify(value) ?? 'null');
  const entries = Object.entries(value).filter(([, one]) => one !== undefined);
  const sorted = entries.sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0));
  return `{${sorted.map(([key, one]) => `${JSON.stringify(key)}:${canonical(one)}`).join()}}`;
}

const inOrder = (rows: readonly unknown[]): string => `[${rows.map(canonical).sort().join()}]`;

/**
 * 64 hexadecimal digits that stay the same while nothing of the input changes; the order of queens, pools, records and the reference cohort does not matter.
 * @example fingerprintOf(input) === fingerprintOf({ ...input, records: [...input.records].reverse() }) // true
 */
export function fingerprintOf(input: EvaluationInput): string {
  const { pedigree, records, reference, ...rest } = plainInput(input);
  return sha256(
    [
      inOrder(pedigree.queens),
      inOrder(pedigree.pools),
      inOrder(records),
      inOrder(reference ?? []),
      canonical(rest),
    ].join('\n'),
  );
}

/** Everything of an input that is not records or descent: what a page shows under "how this was worked out". */
export type EvaluationParameters = Omit<EvaluationInput, 'pedigree' | 'records' | 'model'> & { model: PlainModel };

export function parametersOf(input: EvaluationInput): EvaluationParameters {
  const { pedigree: _pedigree, records: _records, ...rest } = plainInput(input);
  return rest;
}

/** 64 hexadecimal digits of an answer: two runs that agree in every bit have the same. */
export const answerFingerprint = (answer: Evaluation): string => sha256(canonical(answer));
