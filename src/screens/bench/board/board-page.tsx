import { clock } from '../../link/this-device.ts';
import '../../style/board.css';
import { useNavigate, useParams } from '@tanstack/react-router';
import { type CSSProperties, useState } from 'react';
import { type BenchEvent, phaseOf } from '#domain/insemination/bench-board.ts';
import { notDoneReasons } from '#domain/insemination/exception.ts';
import type { RecordId } from '#units/record-id.ts';
import { say, sayAny } from '#words/say.ts';
import { useOutbox } from '../../link/outbox/outbox.ts';
import { exportUnsent, UnsentLine } from '../../link/outbox/unsent-line.tsx';
import { Asked } from '../../parts/asked.tsx';
import { NoPage } from '../../parts/no-page.tsx';
import { BoardDots, BoardHead, BoardHero, BoardLast, nowWords } from './board-view.tsx';
import { ARC, isFar, typeSize, viewing } from './legibility.ts';
import { BoardMenu, KeysPanel, PedalPanel, ViewingPanel } from './menu.tsx';
import {
  AmountPanel,
  ChoiceList,
  choicesOf,
  FillPanel,
  furtherExceptions,
  isTypingPanel,
  LabelPanel,
  MarkPanel,
  type Panel,
  PanelBox,
} from './panels.tsx';
import { lastStepWords, queenCalled } from './sayings.ts';
import type { Session, SessionState } from './session.ts';
import { readBack, Signs } from './signs.tsx';
import { isMuted, mute } from './sounds.ts';
import { StopBlock } from './stop.tsx';
import { boardTheme, nextTheme, putTheme } from './theme.ts';
import { happenedAt, pressLeft, useBoardKeys } from './use-board-keys.ts';
import { useSession, useSessionState } from './use-session.ts';
import { switchVoice, voiceIsOn } from './voice.ts';

type Untimed = BenchEvent extends infer E ? (E extends unknown ? Omit<E, 'at'> : never) : never;
type Send = (event: Untimed) => void;

const sizes = (): CSSProperties => {
  const seen = viewing();
  const px = (minutes: number) => `${typeSize(minutes, seen).toFixed(1)}px`;
  return {
    '--mm': `${seen.pixelsPerMillimetre}px`,
    '--key': px(ARC.key),
    '--text': px(ARC.text),
    '--least': px(ARC.least),
  } as CSSProperties;
};

/** Letters, and what they do. Digits, pedals and labels are heard elsewhere. */
const events: Readonly<Record<string, Untimed>> = {
  T: { kind: 'tip' },
  C: { kind: 'capillary' },
  R: { kind: 'read-back' },
  P: { kind: 'pause' },
  F: { kind: 'flag' },
  '+': { kind: 'dose', change: 0.5 },
  '=': { kind: 'dose', change: 0.5 },
  '-': { kind: 'dose', change: -0.5 },
  '−': { kind: 'dose', change: -0.5 },
};

const acts: Readonly<Record<string, string>> = { Escape: 'leave', L: 'theme', S: 'sound', V: 'voice', E: 'export' };

const panels: Readonly<Record<string, Panel>> = {
  '0': 'exceptions',
  N: 'not-done',
  Enter: 'label',
  M: 'mark',
  G: 'gas',
  D: 'fill',
  '?': 'keys',
  O: 'menu',
};

function PanelOf({
  panel,
  state,
  send,
  present,
  close,
  act,
}: {
  panel: Panel;
  state: SessionState;
  send: Send;
  present: (text: string) => void;
  close: () => void;
  act: (what: string) => void;
}) {
  const done = (event: Untimed) => {
    send(event);
    close();
  };
  switch (panel) {
    case 'exceptions':
      return (
        <PanelBox title={say('bench.panel.exceptions')} onClose={close}>
          <ChoiceList
            choices={choicesOf('exceptions').map((words, i) => ({
              words,
              onChoose: () => done({ kind: 'exception', exception: furtherExceptions[i] ?? 'flagged' }),
            }))}
          />
        </PanelBox>
      );
    case 'not-done':
      return (
        <PanelBox title={say('bench.panel.not-done')} onClose={close}>
          <ChoiceList
            choices={choicesOf('not-done').map((words, i) => ({
              words,
              onChoose: () => done({ kind: 'not-done', reason: notDoneReasons[i] ?? 'other' }),
            }))}
          />
        </PanelBox>
      );
    case 'label':
      return <LabelPanel state={state} onLabel={present} onClose={close} />;
    case 'mark':
      return <MarkPanel onTake={(coded) => done({ kind: 'coded', ...coded })} onClose={close} />;
    case 'fill':
      return <FillPanel onTake={(filled) => done({ kind: 'filled', ...filled })} onClose={close} />;
    case 'gas':
      return (
        <AmountPanel
          title={say('bench.panel.gas')}
          label={say('bench.panel.gas-minutes')}
          unit={say('bench.minutes')}
          usual="2"
          act={say('bench.panel.gas-act')}
          onTake={(minutes) => done({ kind: 'co2', minutes })}
          onClose={close}
        />
      );
    case 'keys':
      return <KeysPanel onClose={close} />;
    case 'pedals':
      return <PedalPanel onClose={close} />;
    case 'viewing':
      return <ViewingPanel onClose={close} />;
    case 'menu':
      return <BoardMenu act={act} onClose={close} />;
  }
}

type ButtonRow = { state: SessionState; send: Send; open: (panel: Panel) => void; back: () => void };

/** Everything by touch too: 20 mm each, 5 mm apart. */
function BoardButtons({ send, open, back }: ButtonRow) {
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
function Plate({ session, state }: { session: Session; state: SessionState }) {
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

/** What stands in the way of going on quietly: a tube that runs short, a soiled tube, an offer to step back. */
function Warnings({ state }: { state: SessionState }) {
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

/** Where the work stopped, in words, until a press. */
function Paused({ state }: { state: SessionState }) {
  return (
    <div className="board-paused" role="dialog" aria-label={say('bench.paused')}>
      <h2>{say('bench.paused')}</h2>
      <p>{readBack(state)}</p>
      <p>{nowNext(state)}</p>
      <p className="board-note">{say('bench.paused-on')}</p>
    </div>
  );
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

function Board({
  session,
  state,
  fromHere,
  leave,
}: {
  session: Session;
  state: SessionState;
  fromHere: boolean;
  leave: () => void;
}) {
  const [panel, setPanel] = useState<Panel | null>(null);
  const [theme, setTheme] = useState(boardTheme);
  const [, redraw] = useState(0);
  const phase = phaseOf(state.board);
  const send: Send = (event) => void session.handle({ ...event, at: clock() } as BenchEvent);
  const close = () => {
    setPanel(null);
    redraw((n) => n + 1);
  };
  const act = (what: string) => {
    const does: Readonly<Record<string, () => void>> = {
      theme: () => setTheme(putTheme(nextTheme(theme))),
      sound: () => mute(!isMuted()),
      voice: () => switchVoice(!voiceIsOn()),
      export: exportUnsent,
      leave,
      'taken-away': () => send({ kind: 'taken-away' }),
      'it-has-happened': () => send({ kind: 'it-has-happened' }),
      pedals: () => setPanel('pedals'),
      viewing: () => setPanel('viewing'),
      keys: () => setPanel('keys'),
    };
    does[what]?.();
    redraw((n) => n + 1);
  };
  const present = (text: string, at = clock()) => {
    setPanel(null);
    void session.present(text, at).then((command) => command !== null && pressed(command, clock()));
  };
  const inPanel = (key: string): boolean => {
    if (panel === null) return false;
    if (key === 'Escape') close();
    const digit = Number(key);
    if (panel === 'not-done' && notDoneReasons[digit - 1] !== undefined) {
      send({ kind: 'not-done', reason: notDoneReasons[digit - 1] ?? 'other' });
      close();
    }
    if (panel === 'exceptions' && furtherExceptions[digit - 1] !== undefined) {
      send({ kind: 'exception', exception: furtherExceptions[digit - 1] ?? 'flagged' });
      close();
    }
    return true;
  };
  function pressed(key: string, at: number): void {
    const upper = key.length === 1 ? key.toUpperCase() : key;
    if (phase === 'stopped') {
      if (upper === '1' || upper === 'TAKEN') act('taken-away');
      if (upper === '2' || upper === 'HAPPENED') act('it-has-happened');
      return;
    }
    if (inPanel(upper)) return;
    if (/^[1-9]$/.test(upper)) send({ kind: 'digit', digit: Number(upper) });
    else if (upper === 'Backspace') pressLeft(session, at);
    else if (acts[upper] !== undefined) act(acts[upper]);
    else if (events[upper] !== undefined) send(events[upper]);
    else if (panels[upper] !== undefined) setPanel(panels[upper]);
  }
  useBoardKeys({
    session,
    isTyping: panel !== null && isTypingPanel(panel),
    onKey: pressed,
    onLabel: present,
    onBrokenLabel: () => {},
  });
  const { stop } = state.board;
  return (
    <section
      className={isFar(viewing(), window.innerHeight) ? 'board far' : 'board'}
      data-theme={theme}
      style={sizes()}
      aria-label={say('bench.board')}
    >
      <h1 className="visually-hidden">{say('bench.board-of', { cross: state.answer.cross.code })}</h1>
      <div className="board-lines">
        <UnsentLine />
        {fromHere ? <FromHere /> : null}
      </div>
      <BoardHead state={state} />
      <BoardHero state={state} />
      <Plate session={session} state={state} />
      <div className="board-told">
        <Warnings state={state} />
        <Signs state={state} />
      </div>
      <BoardLast state={state} />
      <BoardDots state={state} />
      <p className="board-legend">{say(phase === 'in-hand' ? 'bench.legend.given' : 'bench.legend.in')}</p>
      <BoardButtons state={state} send={send} open={setPanel} back={() => pressLeft(session, clock())} />
      {phase === 'paused' ? <Paused state={state} /> : null}
      {panel === null ? null : (
        <PanelOf panel={panel} state={state} send={send} present={present} close={close} act={act} />
      )}
      {stop === null ? null : <StopBlock state={state} stop={stop} onLeave={(exit) => act(exit)} />}
    </section>
  );
}

/** Said while the book was not asked anew; the line of unsent acts says it too while the server is away. */
function FromHere() {
  return useOutbox().reach === 'away' ? null : <p className="board-warning">{say('bench.from-here')}</p>;
}

/** The bench board of one cross: full-bleed, read from arm's length, worked by a foot, a reader or single keys. */
export function BoardPage() {
  const { day, cross } = useParams({ strict: false });
  const navigate = useNavigate();
  const { query, session, fromHere, isNowhere } = useSession(day as RecordId, cross as RecordId);
  const state = useSessionState(session);
  if (isNowhere) return <NoPage />;
  if (session === null || state === null) return <Asked query={query}>{() => null}</Asked>;
  return (
    <Board session={session} state={state} fromHere={fromHere} leave={() => void navigate({ to: `/bench/${day}` })} />
  );
}
