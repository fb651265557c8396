import { keepRun } from '#actions/stock/keep-run.ts';
import type { ToKeep } from '#compute/worth.ts';
import { getJson, postBytes } from '../../link/server.ts';
import { now, today } from '../../link/this-device.ts';
import { useDo } from '../../link/use-do.ts';
import { sayRefusals } from '../../parts/problems.tsx';
import { tell } from '../../parts/told.tsx';

const kept = async (bytes: Uint8Array<ArrayBuffer>) =>
  (await postBytes<{ hash: string }>('/api/upload', new Blob([bytes]))).hash;

/** Seed of everything that is drawn for the pages. */
export const SEED = 1;

/** Keeps what was worked out with its provenance: input and answer first, then the run that names them. Gives its id, or `null` when it was refused. */
export function useKeeping(): (what: 'worth' | 'variances', worked: ToKeep) => Promise<string | null> {
  const { run } = useDo();
  return async (what, worked) => {
    const { version } = await getJson<{ version: string }>('/api/book');
    const did = await run(
      keepRun,
      {
        what,
        day: today(),
        done: now(),
        version,
        parameters: worked.parameters,
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
