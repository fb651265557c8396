import { type ReactNode, useEffect } from 'react';
import type { Wish } from '#domain/rearing/wish.ts';
import { dayWords } from '#words/day-words.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { isTyping, keysAreOn } from '../shell/keys.ts';
import { type Handle, handles, isMoved, type Moves } from './moves.ts';

/** Where a handle stands, in words: the day, or the ages. */
function valueWords(handle: Handle, { inseminate, queenAge, droneAge, holdDays }: Wish): string {
  if (handle === 'day') return dayWords(inseminate, today());
  if (handle === 'queen-age') return say('move.days-old', { n: queenAge ?? 0 });
  if (handle === 'drone-age') return say('move.ages', { from: droneAge?.from ?? 0, to: droneAge?.to ?? 0 });
  return say('move.days', { n: holdDays ?? 0 });
}

type BarProps = {
  /** The wish with the moves so far. */
  wish: Wish;
  moves: Moves;
  /** The handle the keys move. */
  held: Handle;
  onMove: (handle: Handle, days: number) => void;
  onLeave: () => void;
  onKeep: () => void;
  busy: boolean;
  /** What the move does, shown before it is kept. */
  children?: ReactNode;
};

/** Moves what days hang on: a day earlier or later by a press or by [ and ]; Enter keeps it, Escape leaves it. */
export function MoveBar({ wish, moves, held, onMove, onLeave, onKeep, busy, children }: BarProps) {
  const step = (handle: Handle, days: number) => onMove(handle, moves[handle] + days);
  const moved = isMoved(moves);
  useEffect(() => {
    const pressed = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey || isTyping(event.target) || !keysAreOn()) return;
      if (event.key === '[' || event.key === ']') {
        event.preventDefault();
        onMove(held, moves[held] + (event.key === ']' ? 1 : -1));
      } else if (
        event.key === 'Enter' &&
        moved &&
        !(event.target instanceof HTMLElement && event.target.closest('a, button, summary'))
      ) {
        event.preventDefault();
        onKeep();
      } else if (event.key === 'Escape' && moved) onLeave();
    };
    window.addEventListener('keydown', pressed);
    return () => window.removeEventListener('keydown', pressed);
  }, [held, moves, moved, onMove, onLeave, onKeep]);
  return (
    <section className="move-bar" aria-label={say('move.title')}>
      <div className="handles">
        {handles.map((handle) => (
          <div key={handle} className={held === handle ? 'handle held' : 'handle'}>
            <span className="note">{sayAny(`move.${handle}`)}</span>
            <span className="handle-row">
              <button
                type="button"
                className="button step"
                aria-label={say('move.earlier', { what: sayAny(`move.${handle}`) })}
                onClick={() => step(handle, -1)}
              >
                ‹
              </button>
              <strong>{valueWords(handle, wish)}</strong>
              <button
                type="button"
                className="button step"
                aria-label={say('move.later', { what: sayAny(`move.${handle}`) })}
                onClick={() => step(handle, 1)}
              >
                ›
              </button>
            </span>
          </div>
        ))}
      </div>
      {children}
      {moved ? (
        <div className="cluster" role="status">
          <button type="button" className="button main" onClick={onKeep} aria-disabled={busy}>
            {say('move.keep')} <kbd>Enter</kbd>
          </button>
          <button type="button" className="button" onClick={onLeave}>
            {say('move.leave')} <kbd>Esc</kbd>
          </button>
        </div>
      ) : (
        <p className="note">{say('move.how')}</p>
      )}
    </section>
  );
}
