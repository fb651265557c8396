import { useLayoutEffect, useRef } from 'react';
import { clock } from '../../link/this-device.ts';
import { learnedPedals, pedalOf } from './pedals.ts';
import type { Session } from './session.ts';
import { quietWedge, type TypedKey, typed, WEDGE_GAP, type WedgeMeaning, waited } from './wedge.ts';

/** When an event happened, in milliseconds since 1970, however late this page came to hear of it. */
export const happenedAt = (event: { timeStamp: number }): number =>
  clock() - Math.max(0, performance.now() - event.timeStamp);

/** A left pedal without a pedal: Backspace offers to step back, and again within 3 s does it. */
export function pressLeft(session: Session, at: number): void {
  void session.handle({ kind: 'down', pedal: 'left', at });
  void session.handle({ kind: 'up', pedal: 'left', at: at + 100 });
}

type Heard = {
  session: Session | null;
  /** True while a panel with a field of its own has the keys. */
  isTyping: boolean;
  onKey(key: string, at: number): void;
  onLabel(text: string, at: number): void;
  onBrokenLabel(): void;
};

const TICK = 100;
const isFocusedButton = () => document.activeElement instanceof HTMLButtonElement;

/** Keys that belong to the browser or to a field. */
const isElsewhere = (event: KeyboardEvent) => event.ctrlKey || event.metaKey || event.altKey;

/**
 * Hears everything at the bench: pedals, a label reader that types, single keys. It hears them before the rest of the page and
 * keeps them from it. It listens before the board is first drawn, so a foot that is already down on the pedal is heard.
 */
export function useBoardKeys(heard: Heard): void {
  const latest = useRef(heard);
  latest.current = heard;
  useLayoutEffect(() => {
    let wedge = quietWedge;
    let timer: ReturnType<typeof setTimeout> | undefined;
    const pedals = () => learnedPedals();
    const meant = (meanings: readonly WedgeMeaning[], at: number) => {
      for (const meaning of meanings) {
        if (meaning.kind === 'label') latest.current.onLabel(meaning.text, at);
        else if (meaning.kind === 'broken-label') latest.current.onBrokenLabel();
        else latest.current.onKey(meaning.key, at);
      }
    };
    const put = (key: TypedKey) => {
      const next = typed(wedge, key);
      wedge = next.state;
      clearTimeout(timer);
      meant(next.meanings, key.at);
      timer = setTimeout(() => {
        const late = waited(wedge, key.at + WEDGE_GAP + 1);
        wedge = late.state;
        meant(late.meanings, key.at);
      }, WEDGE_GAP + 10);
    };
    const down = (event: KeyboardEvent) => {
      const { session, isTyping } = latest.current;
      if (isElsewhere(event) || event.key === 'Tab') return;
      if (isTyping) {
        if (event.key === 'Escape') latest.current.onKey('Escape', happenedAt(event));
        event.stopPropagation();
        return;
      }
      const at = happenedAt(event);
      const pedal = pedalOf(event.code, pedals());
      if (pedal !== null) {
        void session?.handle({ kind: 'down', pedal, at, repeat: event.repeat });
        // A reader may write the pedal's own character inside a label.
        if (event.key.length === 1 && wedge.buffer !== '' && !event.repeat) put({ key: event.key, at });
        event.preventDefault();
        event.stopPropagation();
        return;
      }
      if (event.key === 'Enter' && isFocusedButton() && wedge.buffer === '') return;
      event.stopPropagation();
      if (event.repeat || event.key === 'Shift') return;
      if (event.key.length === 1 || event.key === 'Enter') put({ key: event.key, at });
      else latest.current.onKey(event.key, at);
      event.preventDefault();
    };
    const up = (event: KeyboardEvent) => {
      const pedal = pedalOf(event.code, pedals());
      if (pedal === null || latest.current.isTyping) return;
      void latest.current.session?.handle({ kind: 'up', pedal, at: happenedAt(event) });
      event.preventDefault();
      event.stopPropagation();
    };
    const lost = () => void latest.current.session?.handle({ kind: 'lost', at: clock() });
    const tick = setInterval(() => {
      const pedal = latest.current.session?.state().board.pedal;
      if (pedal === undefined || (pedal.down === null && pedal.offer === null)) return;
      void latest.current.session?.handle({ kind: 'tick', at: clock() });
    }, TICK);
    window.addEventListener('keydown', down, true);
    window.addEventListener('keyup', up, true);
    window.addEventListener('blur', lost);
    return () => {
      clearInterval(tick);
      clearTimeout(timer);
      window.removeEventListener('keydown', down, true);
      window.removeEventListener('keyup', up, true);
      window.removeEventListener('blur', lost);
    };
  }, []);
}
