import { useEffect, useRef, useState } from 'react';
import { exceptionKinds } from '#domain/insemination/exception.ts';
import type { Pedal } from '#domain/insemination/pedal.ts';
import { say, sayAny, type WordId } from '#words/say.ts';
import { numberTyped } from '../../parts/form.tsx';
import { stateViewing, viewing } from './legibility.ts';
import { PanelBox } from './panels.tsx';
import { learnedPedals, learnPedals, type Pedals } from './pedals.ts';
import { isMuted } from './sounds.ts';
import { localVoice, voiceIsOn } from './voice.ts';

type Close = { onClose: () => void };

/** By touch what has no button on the board; then what is set once, and what helps: theme, sound, voice, pedal, distance, keys, export. */
export function BoardMenu({ act, onClose }: Close & { act: (what: string) => void }) {
  const rows: readonly [string, string, string][] = [
    ['+', 'dose-more', say('bench.menu.dose-more')],
    ['−', 'dose-less', say('bench.menu.dose-less')],
    ['↵', 'label', say('bench.keys.label')],
    ['G', 'gas', say('bench.keys.gas')],
    ['M', 'mark', say('bench.keys.mark')],
    ['D', 'fill', say('bench.keys.fill')],
    ['R', 'read-back', say('bench.keys.read-back')],
    ['L', 'theme', say('bench.menu.theme')],
    ['S', 'sound', say(isMuted() ? 'bench.menu.sound-on' : 'bench.menu.sound-off')],
    [
      'V',
      'voice',
      say(localVoice() === null ? 'bench.menu.no-voice' : voiceIsOn() ? 'bench.menu.voice-off' : 'bench.menu.voice-on'),
    ],
    ['K', 'camera', say('bench.menu.camera')],
    ['H', 'hear', say('bench.menu.hear')],
    ['', 'pedals', say('bench.menu.pedals')],
    ['', 'viewing', say('bench.menu.viewing')],
    ['?', 'keys', say('bench.menu.keys')],
    ['E', 'export', say('bench.keys.export')],
    ['Esc', 'leave', say('bench.menu.leave')],
  ];
  return (
    <PanelBox title={say('bench.key.menu')} onClose={onClose}>
      <ul className="board-choices two">
        {rows.map(([key, what, words]) => (
          <li key={what}>
            <button type="button" className="board-button" onClick={() => act(what)}>
              {key === '' ? null : <kbd>{key}</kbd>} {words}
            </button>
          </li>
        ))}
      </ul>
    </PanelBox>
  );
}

const keys: readonly [string, WordId][] = [
  ['Space', 'bench.keys.press'],
  ['⌫', 'bench.keys.back'],
  ['F', 'bench.keys.flag'],
  ['0', 'bench.keys.more'],
  ['+ −', 'bench.keys.dose'],
  ['N', 'bench.keys.not-done'],
  ['T', 'bench.keys.tip'],
  ['C', 'bench.keys.capillary'],
  ['D', 'bench.keys.fill'],
  ['R', 'bench.keys.read-back'],
  ['P', 'bench.keys.pause'],
  ['G', 'bench.keys.gas'],
  ['M', 'bench.keys.mark'],
  ['Enter', 'bench.keys.label'],
  ['L', 'bench.keys.theme'],
  ['S', 'bench.keys.sound'],
  ['V', 'bench.keys.voice'],
  ['K', 'bench.keys.camera'],
  ['H', 'bench.keys.hear'],
  ['E', 'bench.keys.export'],
  ['Esc', 'bench.keys.leave'],
];

/** Every key of the board. */
export function KeysPanel({ onClose }: Close) {
  return (
    <PanelBox title={say('bench.menu.keys')} onClose={onClose}>
      <dl className="board-keys">
        {exceptionKinds.slice(0, 9).map((kind, i) => (
          <div key={kind}>
            <dt>
              <kbd>{i + 1}</kbd>
            </dt>
            <dd>{sayAny(`exception.${kind}`)}</dd>
          </div>
        ))}
        {keys.map(([key, words]) => (
          <div key={key}>
            <dt>
              <kbd>{key}</kbd>
            </dt>
            <dd>{say(words)}</dd>
          </div>
        ))}
      </dl>
    </PanelBox>
  );
}

const places: readonly { pedal: Pedal; words: WordId }[] = [
  { pedal: 'one', words: 'bench.pedals.one' },
  { pedal: 'left', words: 'bench.pedals.left' },
  { pedal: 'middle', words: 'bench.pedals.middle' },
  { pedal: 'right', words: 'bench.pedals.right' },
];

/** "Press your pedal": whatever key it sends is learned. */
export function PedalPanel({ onClose }: Close) {
  const [pedals, setPedals] = useState<Pedals>(learnedPedals);
  const [waiting, setWaiting] = useState<Pedal | null>(null);
  useEffect(() => {
    if (waiting === null) return;
    const heard = (event: KeyboardEvent) => {
      event.preventDefault();
      event.stopImmediatePropagation();
      if (event.code !== 'Escape') {
        const learned = { ...pedals, [waiting]: event.code };
        learnPedals(learned);
        setPedals(learned);
      }
      setWaiting(null);
    };
    window.addEventListener('keydown', heard, true);
    return () => window.removeEventListener('keydown', heard, true);
  }, [waiting, pedals]);
  return (
    <PanelBox title={say('bench.menu.pedals')} onClose={onClose}>
      <p className="board-note">{say('bench.pedals.how')}</p>
      <ul className="board-choices">
        {places.map(({ pedal, words }) => (
          <li key={pedal}>
            <button type="button" className="board-button" onClick={() => setWaiting(pedal)}>
              {say(words)} <strong>{waiting === pedal ? say('bench.pedals.press') : (pedals[pedal] ?? '–')}</strong>
            </button>
          </li>
        ))}
        <li>
          <button
            type="button"
            className="board-button"
            onClick={() => {
              learnPedals(null);
              setPedals(learnedPedals());
            }}
          >
            {say('bench.pedals.forget')}
          </button>
        </li>
      </ul>
    </PanelBox>
  );
}

/** A bank card by ISO/IEC 7810 ID-1 is 85.60 mm wide. */
const CARD_MM = 85.6;

/** How far away the eyes are, and how large a millimetre is on this screen: a bank card held to the glass tells. */
export function ViewingPanel({ onClose }: Close) {
  const [seen, setSeen] = useState(viewing);
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => field.current?.select(), []);
  const put = (next: typeof seen) => {
    setSeen(next);
    stateViewing(next);
  };
  return (
    <PanelBox title={say('bench.menu.viewing')} onClose={onClose}>
      <label className="board-field">
        {say('bench.viewing.distance')}
        <span className="with-unit">
          <input
            ref={field}
            inputMode="numeric"
            defaultValue={seen.centimetres}
            onChange={({ target }) => {
              const centimetres = numberTyped(target.value);
              if (centimetres !== null && centimetres >= 20 && centimetres <= 300) put({ ...seen, centimetres });
            }}
          />{' '}
          cm
        </span>
      </label>
      <p className="board-note">{say('bench.viewing.card')}</p>
      <div
        className="bank-card"
        style={{ width: CARD_MM * seen.pixelsPerMillimetre, height: 53.98 * seen.pixelsPerMillimetre }}
      >
        {say('bench.viewing.card-is')}
      </div>
      <div className="cluster">
        <button
          type="button"
          className="board-button"
          onClick={() => put({ ...seen, pixelsPerMillimetre: seen.pixelsPerMillimetre * 0.99 })}
        >
          {say('bench.viewing.smaller')}
        </button>
        <button
          type="button"
          className="board-button"
          onClick={() => put({ ...seen, pixelsPerMillimetre: seen.pixelsPerMillimetre * 1.01 })}
        >
          {say('bench.viewing.larger')}
        </button>
      </div>
    </PanelBox>
  );
}
