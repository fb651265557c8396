import { type ReactNode, useEffect, useRef, useState } from 'react';
import { exceptionKinds, notDoneReasons } from '#domain/insemination/exception.ts';
import { say, sayAny } from '#words/say.ts';
import { numberTyped } from '../../parts/form.tsx';
import { cageOf, queenCalled, tubeCalled, volume } from './sayings.ts';
import type { SessionState } from './session.ts';

/** What may lie over the board for a moment. */
export type Panel =
  | 'exceptions'
  | 'not-done'
  | 'label'
  | 'mark'
  | 'gas'
  | 'fill'
  | 'menu'
  | 'keys'
  | 'pedals'
  | 'viewing';

/** Panels with a field of their own: it has the keys while they are open. */
export const isTypingPanel = (panel: Panel | null): boolean =>
  panel === 'label' || panel === 'mark' || panel === 'gas' || panel === 'fill' || panel === 'viewing';

/** Exceptions without a digit of their own, chosen from the list by a digit. */
export const furtherExceptions = exceptionKinds.slice(9).filter((kind) => kind !== 'flagged');

/** A panel over the board, with a way out. */
export function PanelBox({ title, onClose, children }: { title: string; onClose: () => void; children: ReactNode }) {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => box.current?.focus(), []);
  return (
    <div className="board-panel" role="dialog" aria-modal="true" aria-label={title} tabIndex={-1} ref={box}>
      <div className="spread">
        <h2>{title}</h2>
        <button type="button" className="board-button" onClick={onClose}>
          <kbd>Esc</kbd> {say('edge.close')}
        </button>
      </div>
      {children}
    </div>
  );
}

type Numbered = { words: string; onChoose: () => void };

/** Choices by digit. */
export function ChoiceList({ choices }: { choices: readonly Numbered[] }) {
  return (
    <ol className="board-choices two">
      {choices.map(({ words, onChoose }, i) => (
        <li key={words}>
          <button type="button" className="board-button" onClick={onChoose}>
            <kbd>{i + 1}</kbd> {words}
          </button>
        </li>
      ))}
    </ol>
  );
}

/** The reasons a queen is not done, and the exceptions without a digit of their own, by number. */
export const choicesOf = (panel: 'exceptions' | 'not-done'): string[] =>
  panel === 'not-done'
    ? notDoneReasons.map((reason) => sayAny(`not-done.${reason}`))
    : furtherExceptions.map((kind) => sayAny(`exception.${kind}`));

type Expected = { text: string; words: string };

/** What is expected at the bench now: queens still to come, cages, tubes of the rack. */
function expectedLabels(state: SessionState): Expected[] {
  const { facts } = state.board;
  const queens = facts.queue
    .filter(({ status }) => status !== 'closed')
    .map(({ queen }): Expected => {
      const cage = cageOf(state, queen);
      const called = queenCalled(state, queen);
      const words = cage === null ? called : `${called} · ${say('bench.cage', { cage })}`;
      return { text: cage === null ? called : `K:${cage}`, words };
    });
  const tubes = facts.rack.map(({ tube, left }): Expected => {
    const called = tubeCalled(state, tube);
    return { text: `T:${called}`, words: left === null ? called : `${called} · ${volume(left)} µl` };
  });
  return [...queens, ...tubes];
}

/** A label typed or picked: two figures from the expected list are as quick as a scan. */
export function LabelPanel({
  state,
  onLabel,
  onClose,
}: {
  state: SessionState;
  onLabel: (text: string) => void;
  onClose: () => void;
}) {
  const [text, setText] = useState('');
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => field.current?.focus(), []);
  const near = expectedLabels(state).filter(({ words }) => words.toLowerCase().includes(text.trim().toLowerCase()));
  const [only, ...others] = near;
  const take = () => {
    if (text.trim() === '') return;
    onLabel(only !== undefined && others.length === 0 ? only.text : text);
  };
  return (
    <PanelBox title={say('bench.panel.label')} onClose={onClose}>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          take();
        }}
      >
        <label className="board-field">
          {say('bench.panel.label-typed')}
          <input ref={field} value={text} onChange={({ target }) => setText(target.value)} autoComplete="off" />
        </label>
      </form>
      <ul className="board-choices two">
        {near.map((each) => (
          <li key={each.text}>
            <button type="button" className="board-button" onClick={() => onLabel(each.text)}>
              {each.words}
            </button>
          </li>
        ))}
      </ul>
    </PanelBox>
  );
}

type AmountProps = {
  title: string;
  label: string;
  unit: string;
  usual: string;
  /** The most that can be meant. */
  most: number;
  act: string;
  onTake: (amount: number) => void;
  onClose: () => void;
};

/** What was typed where a number belongs. */
const NoNumber = ({ typed }: { typed: string | null }) =>
  typed === null ? null : (
    <p className="board-warning" role="alert">
      {say('bench.panel.no-number', { typed })}
    </p>
  );

/** One number: minutes of gas. */
export function AmountPanel({ title, label, unit, usual, most, act, onTake, onClose }: AmountProps) {
  const [text, setText] = useState(usual);
  const [wrong, setWrong] = useState<string | null>(null);
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => field.current?.select(), []);
  return (
    <PanelBox title={title} onClose={onClose}>
      <form
        className="board-form"
        onSubmit={(event) => {
          event.preventDefault();
          const amount = numberTyped(text);
          if (amount === null || amount < 0 || amount > most) setWrong(text);
          else onTake(amount);
        }}
      >
        <label className="board-field">
          {label}
          <span className="with-unit">
            <input ref={field} inputMode="decimal" value={text} onChange={({ target }) => setText(target.value)} />{' '}
            {unit}
          </span>
        </label>
        <NoNumber typed={wrong} />
        <button type="submit" className="board-button main">
          <kbd>↵</kbd> {act}
        </button>
      </form>
    </PanelBox>
  );
}

export type Coded = { code: string | null; disc: number | null; clip: 'left' | 'right' | null };

/** Code, disc and clip, given while she sleeps. */
export function MarkPanel({ onTake, onClose }: { onTake: (coded: Coded) => void; onClose: () => void }) {
  const [code, setCode] = useState('');
  const [disc, setDisc] = useState('');
  const [clip, setClip] = useState<Coded['clip']>(null);
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => field.current?.focus(), []);
  const take = () => {
    const number = numberTyped(disc);
    onTake({ code: code.trim() === '' ? null : code.trim(), disc: number === null ? null : Math.round(number), clip });
  };
  return (
    <PanelBox title={say('bench.panel.mark')} onClose={onClose}>
      <form
        className="board-form"
        onSubmit={(event) => {
          event.preventDefault();
          take();
        }}
      >
        <label className="board-field">
          {say('bench.panel.code')}
          <input ref={field} value={code} onChange={({ target }) => setCode(target.value)} autoComplete="off" />
        </label>
        <label className="board-field">
          {say('bench.panel.disc')}
          <input inputMode="numeric" value={disc} onChange={({ target }) => setDisc(target.value)} autoComplete="off" />
        </label>
        <label className="board-field">
          {say('bench.panel.clip')}
          <select
            value={clip ?? ''}
            onChange={({ target }) => setClip(target.value === '' ? null : (target.value as 'left'))}
          >
            <option value="">{say('bench.panel.clip-none')}</option>
            <option value="left">{say('bench.panel.clip-left')}</option>
            <option value="right">{say('bench.panel.clip-right')}</option>
          </select>
        </label>
        <button type="submit" className="board-button main">
          <kbd>↵</kbd> {say('bench.panel.mark-act')}
        </button>
      </form>
    </PanelBox>
  );
}

/** Drones drawn into the tip for the next queens. */
export function FillPanel({
  hasTip,
  onTake,
  onClose,
}: {
  /** A tip of collect and give is the open tube. */
  hasTip: boolean;
  onTake: (filled: { drones: number; microlitres: number | null }) => void;
  onClose: () => void;
}) {
  const [drones, setDrones] = useState('1');
  const [read, setRead] = useState('');
  const [wrong, setWrong] = useState<string | null>(null);
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => field.current?.select(), []);
  if (!hasTip)
    return (
      <PanelBox title={say('bench.panel.fill')} onClose={onClose}>
        <p>{say('bench.panel.fill-no-tip')}</p>
      </PanelBox>
    );
  return (
    <PanelBox title={say('bench.panel.fill')} onClose={onClose}>
      <form
        className="board-form"
        onSubmit={(event) => {
          event.preventDefault();
          const count = numberTyped(drones);
          const microlitres = numberTyped(read);
          if (count === null || count < 0) setWrong(drones);
          else if (microlitres === null && read.trim() !== '') setWrong(read);
          else onTake({ drones: count, microlitres });
        }}
      >
        <label className="board-field">
          {say('bench.panel.fill-drones')}
          <input ref={field} inputMode="numeric" value={drones} onChange={({ target }) => setDrones(target.value)} />
        </label>
        <label className="board-field">
          {say('bench.panel.fill-read')}
          <input inputMode="decimal" value={read} onChange={({ target }) => setRead(target.value)} />
        </label>
        <NoNumber typed={wrong} />
        <button type="submit" className="board-button main">
          <kbd>↵</kbd> {say('bench.panel.fill-act')}
        </button>
      </form>
    </PanelBox>
  );
}
