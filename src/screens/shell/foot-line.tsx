import { Link } from '@tanstack/react-router';
import { useEffect, useRef } from 'react';
import { stepBack } from '#actions/history/step-back.ts';
import { type HistoryAct, history } from '#questions/edge/history.ts';
import type { RecordId } from '#units/record-id.ts';
import { say, sayAny } from '#words/say.ts';
import { sayCopyAge, useBook } from '../edge/drawer-page.tsx';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { sayRefusals } from '../parts/problems.tsx';
import { tell } from '../parts/told.tsx';
import { isTyping } from './keys.ts';

type Answer = { acts: HistoryAct[] };

/** Acts that stand, the newest first; a step back is none of them. */
const standingOf = (data: Answer | undefined) =>
  (data?.acts ?? []).filter(({ steppedBackBy, undoes }) => steppedBackBy === null && !undoes.length);

/** Ctrl+Z steps the newest act back: the history is asked anew first, and one press waits for the one before, so that each takes the act before. */
function useStepBackKey(refetch: () => Promise<{ data: Answer | undefined }>): void {
  const { run } = useDo();
  const before = useRef<Promise<void>>(Promise.resolve());
  useEffect(() => {
    const newestBack = async () => {
      const [last] = standingOf((await refetch()).data);
      if (last === undefined) return;
      const did = await run(stepBack, { act: last.id as RecordId });
      tell(
        'problems' in did ? sayRefusals(did.problems) : say('edge.took-back', { what: sayAny(`action.${last.what}`) }),
      );
    };
    const pressed = (event: KeyboardEvent) => {
      if (!(event.ctrlKey || event.metaKey) || event.shiftKey || event.key.toLowerCase() !== 'z') return;
      if (isTyping(event.target)) return;
      event.preventDefault();
      before.current = before.current.catch(() => undefined).then(newestBack);
    };
    window.addEventListener('keydown', pressed);
    return () => window.removeEventListener('keydown', pressed);
  }, [run, refetch]);
}

/** The last three acts, with the newest ready to be stepped back (Ctrl+Z). */
export function FootLine() {
  const { data, refetch } = useAsk(history, { newest: 12 });
  const book = useBook();
  useStepBackKey(refetch);
  const standing = standingOf(data);
  const last = standing[0];
  return (
    <footer className="foot">
      {last === undefined ? (
        <span className="soft">{say('edge.nothing-yet')}</span>
      ) : (
        <>
          <span>{say('edge.last', { what: sayAny(`action.${last.what}`), at: last.done.slice(11, 16) })}</span>
          {standing.slice(1, 3).map((act) => (
            <span key={act.id} className="soft">
              {sayAny(`action.${act.what}`)}
            </span>
          ))}
          <Link to="/history">{say('edge.step-back-where')}</Link>
        </>
      )}
      {book.data === undefined ? null : <Link to="/drawer">{sayCopyAge(book.data.safeCopy)}</Link>}
    </footer>
  );
}
