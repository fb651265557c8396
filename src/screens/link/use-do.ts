import { useQueryClient } from '@tanstack/react-query';
import { useCallback, useState } from 'react';
import type { Action } from '#actions/mechanism/action.ts';
import type { Done } from '#ports/store.ts';
import type { RecordId } from '#units/record-id.ts';
import { askAgain } from './live.ts';
import { postJson, RefusedByServer, type SaidProblem } from './server.ts';
import { deviceId, newId, now } from './this-device.ts';
import { noteSeen, seen } from './use-ask.ts';

/** What became of doing an action: its result, or problems to show at the fields. */
export type Did<R> =
  | { result: R; seq: number; act: RecordId; warnings: readonly SaidProblem[] }
  | { problems: readonly SaidProblem[] };

type Doing = { happened?: boolean };

/** Does actions from a form. `problems` are those of the last try; `busy` while one is on its way. */
export function useDo(): {
  run<I, R, P>(action: Action<I, R, P>, input: I, doing?: Doing): Promise<Did<R>>;
  problems: readonly SaidProblem[];
  clear(): void;
  busy: boolean;
} {
  const client = useQueryClient();
  const [problems, setProblems] = useState<readonly SaidProblem[]>([]);
  const [busy, setBusy] = useState(false);
  const run = useCallback(
    async <I, R, P>(action: Action<I, R, P>, input: I, doing: Doing = {}): Promise<Did<R>> => {
      setBusy(true);
      try {
        const act = { id: newId(), input, done: now(), device: deviceId(), seen: seen(), ...doing };
        const done = await postJson<Done>(`/api/act/${action.name}`, act);
        noteSeen(done.seq);
        setProblems([]);
        askAgain(client, { seq: done.seq, touched: done.touched });
        return { result: done.result as R, seq: done.seq, act: act.id, warnings: done.warnings };
      } catch (error) {
        if (!(error instanceof RefusedByServer)) throw error;
        setProblems(error.problems);
        return { problems: error.problems };
      } finally {
        setBusy(false);
      }
    },
    [client],
  );
  return { run, problems, clear: useCallback(() => setProblems([]), []), busy };
}
