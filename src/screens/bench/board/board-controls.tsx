import { say, sayAny } from '#words/say.ts';
import { clock } from '../../link/this-device.ts';
import type { Send } from './board-keys.ts';
import { nowWords } from './board-view.tsx';
import type { Panel } from './panels.tsx';
import type { Session, SessionState } from './session.ts';
import { happenedAt } from './use-board-keys.ts';

type ButtonRow = { send: Send; open: (panel: Panel) => void; back: () => void };

/** Everything by touch too: 20 mm each, 5 mm apart. */
export function BoardButtons({ send, open, back }: ButtonRow) {
  const rows: readonly [string, string, () => void][] = [
    ['⌫', say('bench.key.back'), back],
    ['F', say('bench.key.flag'), () => send({ kind: 'flag' })],
    ['1', sayAny('exception.leak'), () => send({ kind: 'digit', digit: 1 })],
    ['0', say('bench.key.more'), () => open('exceptions')],
    ['N', say('bench.key.not-done'), () => open('not-done')],
    ['T', say('bench.key.tip'), () => send({ kind: 'tip' })],
    ['C', say('bench.key.capillary'), () => send({ kind: 'capillary' })],
    ['P', say('bench.key.pause'), () => send({ kind: 'pause' })],
    ['O', say('bench.key.menu'), () => open('menu')],
  ];
  return (
    <nav className="board-buttons" aria-label={say('bench.key.all')}>
      {rows.map(([key, words, onClick]) => (
        <button
          key={key}
          type="button"
          className="board-button"
          onClick={(event) => {
            event.currentTarget.blur();
            onClick();
          }}
        >
          <kbd>{key}</kbd>
          <span>{words}</span>
        </button>
      ))}
    </nav>
  );
}

/** The half of the screen a knuckle can press: it is a pedal. */
export function Plate({ session, state }: { session: Session; state: SessionState }) {
  const contact = (kind: 'down' | 'up') => (event: { timeStamp: number; nativeEvent: { timeStamp: number } }) =>
    void session.handle({ kind, pedal: 'one', at: happenedAt(event.nativeEvent) });
  return (
    <button
      type="button"
      className="board-plate"
      onPointerDown={contact('down')}
      onPointerUp={contact('up')}
      onPointerCancel={() => void session.handle({ kind: 'lost', at: clock() })}
      onClick={(event) => {
        if (event.detail !== 0) return;
        void session.handle({ kind: 'accept', at: clock() });
      }}
    >
      <small>{say('bench.now')}</small>
      <span>{nowWords(state)}</span>
    </button>
  );
}
