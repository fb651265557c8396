import type { Stop } from '#domain/insemination/bench-board.ts';
import { say } from '#words/say.ts';
import { queenCalled, tubeCalled } from './sayings.ts';
import type { SessionState } from './session.ts';

/** 30 mm letters, smaller only where a code is too long for half the screen. */
const letters = (text: string) => ({
  fontSize: `min(calc(30 * var(--mm)), ${(46 / Math.max(4, text.length)) * 1.55}vw)`,
});

function Code({ text, children }: { text: string; children: string }) {
  return (
    <div className="stop-code">
      <strong className="code" style={letters(text)}>
        {text}
      </strong>
      <span>{children}</span>
    </div>
  );
}

function presented(state: SessionState, { label }: Stop): { text: string; beside: string } {
  const known = state.answer.labels.find(({ kind, id }) => kind === label.kind && id === label.id);
  if (known !== undefined) return known;
  return { text: label.kind === 'tube' ? tubeCalled(state, label.id) : queenCalled(state, label.id), beside: '' };
}

/** Why nobody should use a tube, whatever cross it was for; `null` for anything else. */
function barredWords({ answer }: SessionState, { label: { id } }: Stop): string | null {
  if (answer.condemned.includes(id)) return say('bench.stop.condemned');
  return answer.frozen.includes(id) ? say('bench.stop.frozen') : null;
}

function belongs(state: SessionState, stop: Stop): string {
  if (stop.belongsTo !== null) return say('bench.stop.of-cross', { cross: stop.belongsTo });
  if (state.unknown.has(stop.label.id)) return say('bench.stop.of-nothing');
  const { beside } = presented(state, stop);
  return beside === '' ? say('bench.stop.of-none') : say('bench.stop.of-none-but', { beside });
}

type StopProps = { state: SessionState; stop: Stop; onLeave: (exit: 'taken-away' | 'it-has-happened') => void };

/**
 * The one full-screen block: what was presented does not belong to the open cross, seen before the dose. Two codes side by side
 * and what each belongs to; it is left only by one of two named exits.
 */
export function StopBlock({ state, stop, onLeave }: StopProps) {
  const { text } = presented(state, stop);
  const label = stop.label.kind === 'cage' ? say('bench.cage', { cage: text }) : text;
  const here = stop.inHand === null ? stop.openCross : queenCalled(state, stop.inHand);
  const barred = barredWords(state, stop);
  const kind = say(stop.label.kind === 'tube' ? 'bench.stop.tube' : 'bench.stop.queen');
  return (
    <div
      className="stop board-stop"
      role="alertdialog"
      aria-modal="true"
      aria-labelledby="stop-head"
      aria-describedby="stop-told"
    >
      <h1 id="stop-head">
        <span aria-hidden="true">■ </span>
        {barred === null ? say('bench.stop.head', { kind }) : say('bench.stop.head-barred')}
      </h1>
      <div className="stop-pair" id="stop-told">
        <Code text={label}>{barred ?? belongs(state, stop)}</Code>
        <Code text={here}>
          {stop.inHand === null ? say('bench.stop.open-cross') : say('bench.stop.of-this', { cross: stop.openCross })}
        </Code>
      </div>
      <div className="stop-exits">
        <button type="button" onClick={() => onLeave('taken-away')}>
          <kbd>1</kbd> {say('bench.stop.taken-away')}
          <small>{say('bench.stop.taken-away-means')}</small>
        </button>
        <button type="button" onClick={() => onLeave('it-has-happened')}>
          <kbd>2</kbd> {say('bench.stop.it-has-happened')}
          <small>{say('bench.stop.it-has-happened-means')}</small>
        </button>
      </div>
      <p>{say('bench.stop.reason-later')}</p>
    </div>
  );
}
