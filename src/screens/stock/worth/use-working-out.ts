import { useState } from 'react';
import type { WorkedRun } from '#compute/worth.ts';
import { inputOf, type WorthChoices, type WorthFacts } from '#domain/worth/choices.ts';
import type { EvaluationProblem } from '#domain/worth/evaluation-input.ts';
import { say } from '#words/say.ts';
import { useWork } from '../../link/computed.ts';
import { tell } from '../../parts/told.tsx';
import { useKeeping } from './keeping.ts';

/** Works worth out in a worker and keeps the run with its provenance. */
export function useWorkingOut(facts: WorthFacts) {
  const work = useWork();
  const keep = useKeeping(facts);
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
    const id = await keep({ what: 'worth', choices, input, worked });
    if (id !== null) tell(say('worth.kept'));
    return id;
  };
  return { workOut, stop: work.stop, progress: work.progress, problems };
}
