import { clock } from '../link/this-device.ts';
import '../style/board.css';
import { type CSSProperties, useLayoutEffect, useRef, useState } from 'react';
import { nextPedal, type PedalEvent, restingPedal } from '#domain/insemination/pedal.ts';
import type { NoSemenReason } from '#domain/semen/tally.ts';
import { say, sayAny } from '#words/say.ts';
import { ARC, typeSize, viewing } from '../bench/board/legibility.ts';
import { learnedPedals, pedalOf } from '../bench/board/pedals.ts';
import { sound } from '../bench/board/sounds.ts';
import { boardTheme } from '../bench/board/theme.ts';
import { happenedAt } from '../bench/board/use-board-keys.ts';
import { gaveIn, type Pressed, pressed, soiledIn, type TallyState, takenBack } from './tally-state.ts';

const reasons: readonly NoSemenReason[] = ['faeces', 'mucus', 'bubble', 'immature', 'other'];

/**
 * Counting with the foot: a press = a drone gave. Nobody presses for the empty ones; their reasons are digits, by exception. A hold
 * offers to take the last one back. Read from the microscope, as the board is.
 */
export function CountPanel({
  state,
  put,
  onClose,
}: {
  state: TallyState;
  put: (next: TallyState) => void;
  onClose: () => void;
}) {
  const [pedal, setPedal] = useState(restingPedal);
  const latest = useRef({ state, put, onClose, pedal });
  latest.current = { state, put, onClose, pedal };
  const contact = (event: PedalEvent) => {
    const { pedal: now, meanings } = nextPedal(latest.current.pedal, event);
    latest.current.pedal = now;
    setPedal(now);
    for (const meaning of meanings) {
      if (meaning === 'accept') press('gave');
      if (meaning === 'step-back') stepBack();
      if (meaning === 'rising') sound('rising');
      if (meaning === 'offer') sound('offered');
    }
  };
  const change = (next: TallyState) => {
    latest.current.state = next;
    latest.current.put(next);
  };
  const press = (what: Pressed['what']) => {
    change(pressed(latest.current.state, what));
    sound(what === 'gave' ? 'accepted' : 'flagged');
  };
  const stepBack = () => {
    change(takenBack(latest.current.state));
    sound('stepped-back');
  };
  const nextTube = () => {
    const { state: now } = latest.current;
    change({ ...now, open: (now.open + 1) % now.tubes.length });
  };
  useLayoutEffect(() => {
    const down = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey || event.key === 'Tab') return;
      const at = happenedAt(event);
      const is = pedalOf(event.code, learnedPedals());
      if (is !== null) contact({ kind: 'down', pedal: is === 'right' ? 'one' : is, at, repeat: event.repeat });
      else if (event.key === 'Escape') latest.current.onClose();
      else if (event.key === 'Backspace') {
        contact({ kind: 'down', pedal: 'left', at });
        contact({ kind: 'up', pedal: 'left', at: at + 100 });
      } else if (event.key.toUpperCase() === 'C') nextTube();
      else {
        const reason = reasons[Number(event.key) - 1];
        if (reason === undefined) return;
        press(reason);
      }
      event.preventDefault();
      event.stopPropagation();
    };
    const up = (event: KeyboardEvent) => {
      const is = pedalOf(event.code, learnedPedals());
      if (is === null) return;
      contact({ kind: 'up', pedal: is === 'right' ? 'one' : is, at: happenedAt(event) });
      event.preventDefault();
      event.stopPropagation();
    };
    const tick = setInterval(() => {
      if (latest.current.pedal.down !== null || latest.current.pedal.offer !== null)
        contact({ kind: 'tick', at: clock() });
    }, 100);
    window.addEventListener('keydown', down, true);
    window.addEventListener('keyup', up, true);
    return () => {
      clearInterval(tick);
      window.removeEventListener('keydown', down, true);
      window.removeEventListener('keyup', up, true);
    };
  }, []);
  const seen = viewing();
  const px = (minutes: number) => `${typeSize(minutes, seen).toFixed(1)}px`;
  const style = {
    '--mm': `${seen.pixelsPerMillimetre}px`,
    '--key': px(ARC.key),
    '--text': px(ARC.text),
    '--least': px(ARC.least),
  };
  const tube = state.tubes[state.open];
  const last = state.log.at(-1)?.what;
  return (
    <section
      className="board counting"
      data-theme={boardTheme()}
      style={style as CSSProperties}
      aria-label={say('semen.tally.count')}
    >
      <h1 className="visually-hidden">{say('semen.tally.count')}</h1>
      <header className="board-head">
        <span className="tube">
          <strong className="code">{tube?.code || say('semen.tally.tube', { n: state.open + 1 })}</strong>
          <span>{say('semen.tally.in-this', { n: tube?.gave ?? 0 })}</span>
        </span>
        <button type="button" className="board-button" onClick={onClose}>
          <kbd>Esc</kbd> {say('edge.close')}
        </button>
      </header>
      <div className="counted" role="status">
        <strong className="figures">{gaveIn(state)}</strong>
        <span>{say('semen.tally.gave', { n: gaveIn(state) })}</span>
      </div>
      <button
        type="button"
        className="board-plate"
        onPointerDown={(event) => contact({ kind: 'down', pedal: 'one', at: happenedAt(event.nativeEvent) })}
        onPointerUp={(event) => contact({ kind: 'up', pedal: 'one', at: happenedAt(event.nativeEvent) })}
      >
        {pedal.offer === null || last === undefined
          ? say('semen.tally.press')
          : say('semen.tally.offer', {
              what: last === 'gave' ? say('semen.tally.one-gave') : sayAny(`semen.reason.${last}`),
            })}
      </button>
      <nav className="board-buttons" aria-label={say('semen.tally.reasons')}>
        {reasons.map((reason, i) => (
          <button key={reason} type="button" className="board-button" onClick={() => press(reason)}>
            <kbd>{i + 1}</kbd>
            <span>
              {sayAny(`semen.reason.${reason}`)} {reason === 'faeces' ? soiledIn(state) : (state.reasons[reason] ?? 0)}
            </span>
          </button>
        ))}
        <button type="button" className="board-button" onClick={nextTube}>
          <kbd>C</kbd>
          <span>{say('bench.key.capillary')}</span>
        </button>
      </nav>
      {tube === undefined || tube.soiled === 0 ? null : <p className="board-warning">{say('semen.tally.soiled')}</p>}
    </section>
  );
}
