import { Link } from '@tanstack/react-router';
import { useEffect } from 'react';
import { stepBack } from '#actions/history/step-back.ts';
import { history } from '#questions/edge/history.ts';
import type { RecordId } from '#units/record-id.ts';
import { say, sayAny } from '#words/say.ts';
import { sayCopyAge, useBook } from '../edge/drawer-page.tsx';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { sayRefusals } from '../parts/problems.tsx';
import { tell } from '../parts/told.tsx';
import { isTyping } from './keys.ts';

/** The last three acts, with the newest ready to be stepped back (Ctrl+Z). */
export function FootLine() {
  const { data } = useAsk(history, { newest: 12 });
  const { run } = useDo();
  const book = useBook();
  const standing = (data?.acts ?? []).filter(({ steppedBackBy, undoes }) => steppedBackBy === null && !undoes.length);
  const last = standing[0];
  useEffect(() => {
    const pressed = (event: KeyboardEvent) => {
      if (!(event.ctrlKey || event.metaKey) || event.shiftKey || event.key.toLowerCase() !== 'z') return;
      if (isTyping(event.target) || last === undefined) return;
      event.preventDefault();
      void run(stepBack, { act: last.id as RecordId }).then((did) =>
        tell(
          'problems' in did
            ? sayRefusals(did.problems)
            : say('edge.took-back', { what: sayAny(`action.${last.what}`) }),
        ),
      );
    };
    window.addEventListener('keydown', pressed);
    return () => window.removeEventListener('keydown', pressed);
  }, [last, run]);
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
