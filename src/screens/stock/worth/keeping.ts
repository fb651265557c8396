import { keepRun } from '#actions/stock/keep-run.ts';
import type { Worked } from '#compute/worth.ts';
import { unitsOf, type WorthChoices, type WorthFacts } from '#domain/worth/choices.ts';
import { type EvaluationInput, parametersOf } from '#domain/worth/evaluation-input.ts';
import { getJson, postBytes } from '../../link/server.ts';
import { now, today } from '../../link/this-device.ts';
import { useDo } from '../../link/use-do.ts';
import { sayRefusals } from '../../parts/problems.tsx';
import { tell } from '../../parts/told.tsx';

const kept = async (bytes: Uint8Array<ArrayBuffer>) =>
  (await postBytes<{ hash: string }>('/api/upload', new Blob([bytes]))).hash;

/** Seed of everything that is drawn for the pages. */
export const SEED = 1;

export type ToKeep = {
  what: 'worth' | 'variances';
  choices: WorthChoices;
  input: EvaluationInput;
  worked: Worked<unknown>;
};

/** Keeps what was worked out with its provenance: input and answer first, then the run that names them. Gives its id, or `null` when it was refused. */
export function useKeeping(facts: WorthFacts): (given: ToKeep) => Promise<string | null> {
  const { run } = useDo();
  return async ({ what, choices, input, worked }) => {
    const units = Object.fromEntries(choices.traits.map(({ trait }) => [trait, unitsOf(facts.records, trait)]));
    const { version } = await getJson<{ version: string }>('/api/book');
    const did = await run(
      keepRun,
      {
        what,
        day: today(),
        done: now(),
        version,
        parameters: JSON.stringify({ choices, units, ...parametersOf(input) }),
        fingerprint: worked.fingerprint,
        answer_fingerprint: worked.answerFingerprint,
        seed: SEED,
        input: await kept(worked.inputBytes),
        answer: await kept(worked.answerBytes),
      },
      { happened: true },
    );
    if ('problems' in did) {
      tell(sayRefusals(did.problems));
      return null;
    }
    return did.result.id;
  };
}
