import { useState } from 'react';
import type { ToKeep } from '#compute/worth.ts';
import type { WorthChoices } from '#domain/worth/choices.ts';
import type { EvaluationProblem } from '#domain/worth/evaluation-input.ts';
import { say } from '#words/say.ts';
import { useWork } from '../../link/computed.ts';
import { tell } from '../../parts/told.tsx';
import { useKeeping } from './keeping.ts';
import { theStock } from './sources.ts';

/** Works worth out in a worker and keeps the run with its provenance. */
export function useWorkingOut() {
  const work = useWork();
  const keep = useKeeping();
  const [problems, setProblems] = useState<readonly EvaluationProblem[]>([]);
  const workOut = async (choices: WorthChoices): Promise<string | null> => {
    const worked = await work.run<ToKeep | { problems: readonly EvaluationProblem[] }>(
      'stock-run',
      { choices },
      { brings: theStock() },
    );
    if (worked === null) {
      if (work.isStopped()) tell(say('worth.stopped'));
      return null;
    }
    if ('problems' in worked) {
      setProblems(worked.problems);
      return null;
    }
    setProblems([]);
    const id = await keep('worth', worked);
    if (id !== null) tell(say('worth.kept'));
    return id;
  };
  return { workOut, stop: work.stop, progress: work.progress, problems };
}
