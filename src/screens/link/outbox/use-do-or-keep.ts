import { useCallback, useState } from 'react';
import type { Action } from '#actions/mechanism/action.ts';
import { parse } from '#records/parse.ts';
import { OutOfReach, type SaidProblem } from '../server.ts';
import { deviceId, newId, now } from '../this-device.ts';
import { useDo } from '../use-do.ts';
import { post } from './outbox.ts';

/** What became of an act from a form at the bench: done, refused, or kept on this device until the server is back. */
export type DidOrKept<R> = { result: R } | { problems: readonly SaidProblem[] } | { kept: true };

/** Does an action that has happened; while the server is away the act is kept in the outbox instead of being lost. */
export function useDoOrKeep() {
  const { run, problems, clear, busy } = useDo();
  const [refused, setRefused] = useState<readonly SaidProblem[]>([]);
  const runOrKeep = useCallback(
    async <I, R, P>(action: Action<I, R, P>, input: I): Promise<DidOrKept<R>> => {
      const read = parse(action.input, input);
      setRefused('problems' in read ? read.problems : []);
      if ('problems' in read) return read;
      try {
        return await run(action, input, { happened: true });
      } catch (error) {
        if (!(error instanceof OutOfReach)) throw error;
        const act = { id: newId(), name: action.name, input, done: now(), device: deviceId(), happened: true };
        await post({ acts: [act] });
        return { kept: true };
      }
    },
    [run],
  );
  return { runOrKeep, problems: refused.length > 0 ? refused : problems, clear, busy };
}
