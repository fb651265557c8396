import { useState } from 'react';
import { keepRun } from '#actions/stock/keep-run.ts';
import type { WorkedRun } from '#compute/worth.ts';
import { inputOf, unitsOf, type WorthChoices, type WorthFacts } from '#domain/worth/choices.ts';
import { type EvaluationProblem, parametersOf } from '#domain/worth/evaluation-input.ts';
import { say } from '#words/say.ts';
import { useWork } from '../../link/computed.ts';
import { getJson, postBytes } from '../../link/server.ts';
import { now, today } from '../../link/this-device.ts';
import { useDo } from '../../link/use-do.ts';
import { sayRefusals } from '../../parts/problems.tsx';
import { tell } from '../../parts/told.tsx';

const kept = async (text: string) => (await postBytes<{ hash: string }>('/api/upload', new Blob([text]))).hash;

/** Works worth out in a worker and keeps the run with its provenance. */
export function useWorkingOut(facts: WorthFacts) {
  const work = useWork();
  const { run } = useDo();
  const [problems, setProblems] = useState<readonly EvaluationProblem[]>([]);
  const workOut = async (choices: WorthChoices): Promise<string | null> => {
    const input = inputOf(facts, choices);
    const worked = await work.run<WorkedRun | { problems: readonly EvaluationProblem[] }>('evaluation-run', input);
    if (worked === null) {
      tell(say('worth.stopped'));
      return null;
    }
    if ('problems' in worked) {
      setProblems(worked.problems);
      return null;
    }
    setProblems([]);
    const units = Object.fromEntries(choices.traits.map(({ trait }) => [trait, unitsOf(facts.records, trait)]));
    const { version } = await getJson<{ version: string }>('/api/book');
    const did = await run(
      keepRun,
      {
        what: 'worth',
        day: today(),
        done: now(),
        version,
        parameters: JSON.stringify({ choices, units, ...parametersOf(input) }),
        fingerprint: worked.fingerprint,
        answer_fingerprint: worked.answerFingerprint,
        seed: 1,
        input: await kept(worked.inputText),
        answer: await kept(worked.answerText),
      },
      { happened: true },
    );
    if ('problems' in did) {
      tell(sayRefusals(did.problems));
      return null;
    }
    tell(say('worth.kept'));
    return did.result.id;
  };
  return { workOut, stop: work.stop, progress: work.progress, problems };
}
