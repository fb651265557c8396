import { createHash } from 'node:crypto';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { computations } from '#compute/computations.ts';
import { computeHere } from '#compute/here.ts';
import { pack, unpack } from '#compute/kept-run.ts';
import type { Worked } from '#compute/worth.ts';
import { evaluate } from '#domain/worth/evaluation.ts';
import {
  type EvaluationInput,
  fingerprintOf,
  fingerprintOfAnswer,
  inOneOrder,
} from '#domain/worth/evaluation-input.ts';
import type { RecordId } from '#units/record-id.ts';
import { databases, type Fresh } from '../../../tests/support/databases.ts';
import { does, portsOver } from '../../../tests/support/doing.ts';
import { ask } from '../mechanism/ask.ts';
import { type RunLine, type VarianceRun, varianceRuns, worthRuns } from './worth-runs.ts';

/** A dam and two daughters in one yard-year: enough to work out. */
const input: EvaluationInput = {
  pedigree: {
    queens: [
      { id: 'dam', dam: null, pool: null },
      { id: 'one', dam: 'dam', pool: null },
      { id: 'other', dam: 'dam', pool: null },
    ],
    pools: [],
  },
  records: [
    { queen: 'dam', levels: ['a'], values: [20.1], record: 'r1' },
    { queen: 'one', levels: ['a'], values: [30 / 7], record: 'r2' },
    { queen: 'other', levels: ['a'], values: [1e-9], record: 'r3' },
  ],
  model: {
    traits: ['honey'],
    fixed: [['yard']],
    G: [
      [6, -2],
      [-2, 4],
    ],
    R: [[10]],
  },
};
type ToKeep = Omit<Worked<unknown>, 'answer'>;

function workedOut(given: EvaluationInput): ToKeep {
  const ordered = inOneOrder(given);
  const answer = evaluate(ordered);
  return {
    fingerprint: fingerprintOf(ordered),
    answerFingerprint: fingerprintOfAnswer(answer),
    inputBytes: pack(ordered),
    answerBytes: pack(answer),
  };
}

describe.each(databases.filter(({ here }) => here))('$name', ({ fresh }) => {
  let on: Fresh;
  beforeEach(async () => {
    on = await fresh();
  });
  afterEach(() => on.end());

  const asked = async (question: Parameters<typeof ask>[0], given: object) => {
    const answered = await ask(question, given, portsOver(on.store, computeHere));
    if ('problems' in answered) throw new Error(JSON.stringify(answered.problems));
    return answered.answer;
  };

  async function keep(worked: ToKeep, what: 'worth' | 'variances' = 'worth'): Promise<RecordId> {
    const kept = async (bytes: Uint8Array) => {
      const hash = createHash('sha256').update(bytes).digest('hex');
      await on.store.keepBytes(hash, 'application/octet-stream', bytes);
      return hash;
    };
    return does(on.store, 'keep-run', {
      what,
      version: '0.1.0',
      parameters: '{}',
      fingerprint: worked.fingerprint,
      answer_fingerprint: worked.answerFingerprint,
      seed: 1,
      input: await kept(worked.inputBytes),
      answer: await kept(worked.answerBytes),
    });
  }

  test('a kept run is told with its fingerprints, and its kept input gives them again', async () => {
    const worked = workedOut(input);
    const run = await keep(worked);
    const { runs } = (await asked(worthRuns as never, {})) as { runs: RunLine[] };
    const [line] = runs;
    expect(line).toMatchObject({
      id: run,
      fingerprint: worked.fingerprint,
      answer_fingerprint: worked.answerFingerprint,
    });
    const bytes = await on.store.bytes(line?.input ?? '');
    expect(bytes?.bytes).toEqual(worked.inputBytes);
    const kept = unpack(bytes?.bytes ?? new Uint8Array());
    expect(computations['evaluation-again']?.({ input: kept } as never, () => {})).toEqual({
      fingerprint: line?.fingerprint,
      answerFingerprint: line?.answer_fingerprint,
    });
  });

  test('an estimate kept without correlations has them from its matrices, without errors', async () => {
    const kept = {
      traits: ['honey'],
      G: [
        [6, -3],
        [-3, 6],
      ],
      R: [[10]],
    };
    await keep({ ...workedOut(input), answerBytes: pack(kept) }, 'variances');
    const { runs } = (await asked(varianceRuns as never, {})) as { runs: VarianceRun[] };
    expect(runs[0]?.answer.correlations).toMatchObject({
      G: [
        [1, -0.5],
        [-0.5, 1],
      ],
      standardErrors: {
        G: [
          [null, null],
          [null, null],
        ],
      },
    });
  });

  test('where nothing was kept, nothing is told', async () => {
    expect(await asked(worthRuns as never, {})).toEqual({ runs: [] });
    expect(await asked(varianceRuns as never, {})).toEqual({ runs: [] });
  });
});
