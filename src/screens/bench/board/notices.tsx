import { say } from '#words/say.ts';
import { useOutbox } from '../../link/outbox/outbox.ts';
import { nowWords } from './board-view.tsx';
import { lastStepWords, queenCalled } from './sayings.ts';
import type { SessionState } from './session.ts';
import { readBack } from './signs.tsx';

/** What stands in the way of going on quietly: a tube that runs short, a soiled tube, an offer to step back. */
export function Warnings({ state }: { state: SessionState }) {
  const { board, outlook, answer } = state;
  const offer = board.pedal.offer === null ? null : lastStepWords(state);
  if (offer !== null) return <p className="board-warning offer">{say('bench.offer', { what: offer })}</p>;
  if (outlook !== null && answer.condemned.includes(outlook.tube))
    return <p className="board-warning">{say('bench.condemned')}</p>;
  if (outlook?.left != null && outlook.left < -1e-9)
    return <p className="board-warning">{say('bench.overdrawn', { by: (-outlook.left).toFixed(1) })}</p>;
  if (outlook?.runsShort === true)
    return (
      <p className="board-warning">
        {say('bench.runs-short', { doses: outlook.doses ?? 0, waiting: outlook.waiting })}
      </p>
    );
  return null;
}

function nowNext(state: SessionState): string {
  const { inHand } = state.board.facts;
  return inHand === null
    ? nowWords({ ...state, board: { ...state.board, isPaused: false } })
    : say('bench.now.give', {
        queen: queenCalled(state, inHand.queen),
        dose: state.board.facts.dose.toFixed(1),
      });
}

/** Where the work stopped, in words, until a press. */
export function Paused({ state }: { state: SessionState }) {
  return (
    <div className="board-paused" role="dialog" aria-label={say('bench.paused')}>
      <h2>{say('bench.paused')}</h2>
      <p>{readBack(state)}</p>
      <p>{nowNext(state)}</p>
      <p className="board-note">{say('bench.paused-on')}</p>
    </div>
  );
}

/** Said while the book was not asked anew; the line of unsent acts says it too while the server is away. */
export function FromHere() {
  return useOutbox().reach === 'away' ? null : <p className="board-warning">{say('bench.from-here')}</p>;
}
