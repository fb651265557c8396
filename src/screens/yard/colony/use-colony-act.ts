import type { Did } from '../../link/use-do.ts';
import { useDo } from '../../link/use-do.ts';
import { tell } from '../../parts/told.tsx';

/** What every small form of a colony does: one act that has happened, then it says so and closes. */
export function useColonyAct(onDone: () => void) {
  const { run, problems, busy } = useDo();
  const done = <R>(did: Did<R>, words: string): void => {
    if ('problems' in did) return;
    tell(words);
    onDone();
  };
  return { run, problems, busy, done };
}

/** These forms write down what has happened. */
export const happened = { happened: true } as const;
