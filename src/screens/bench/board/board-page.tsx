import '../../style/board.css';
import { useNavigate, useParams } from '@tanstack/react-router';
import { type CSSProperties, useState } from 'react';
import { type BenchEvent, phaseOf } from '#domain/insemination/bench-board.ts';
import { notDoneReasons } from '#domain/insemination/exception.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { exportUnsent, UnsentLine } from '../../link/outbox/unsent-line.tsx';
import { clock } from '../../link/this-device.ts';
import { Asked } from '../../parts/asked.tsx';
import { NoPage } from '../../parts/no-page.tsx';
import { BoardButtons, Plate } from './board-controls.tsx';
import { actKeys, eventKeys, panelKeys, type Send, type Untimed } from './board-keys.ts';
import { BoardDots, BoardHead, BoardHero, BoardLast } from './board-view.tsx';
import { Camera } from './camera.tsx';
import { HearLine } from './hear-line.tsx';
import type { Wish } from './hearing.ts';
import { ARC, isFar, typeSize, viewing } from './legibility.ts';
import { FromHere, Paused, Warnings } from './notices.tsx';
import { PanelOf } from './panel-of.tsx';
import { furtherExceptions, isTypingPanel, type Panel } from './panels.tsx';
import type { Session, SessionState } from './session.ts';
import { Signs } from './signs.tsx';
import { isMuted, mute } from './sounds.ts';
import { StopBlock } from './stop.tsx';
import { boardTheme, nextTheme, putTheme } from './theme.ts';
import { pressLeft, useBoardKeys } from './use-board-keys.ts';
import { useSession, useSessionState } from './use-session.ts';
import { switchVoice, voiceIsOn } from './voice.ts';

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
  const [hasCamera, setCamera] = useState(false);
  const [hears, setHears] = useState(false);
  const [, redraw] = useState(0);
  const phase = phaseOf(state.board);
  const send: Send = (event) => void session.handle({ ...event, at: clock() } as BenchEvent);
  const close = () => {
    setPanel(null);
    redraw((n) => n + 1);
  };
  const closeAfter = (event: Untimed) => {
    send(event);
    close();
  };
  const act = (what: string) => {
    const does: Readonly<Record<string, () => void>> = {
      theme: () => setTheme(putTheme(nextTheme(theme))),
      sound: () => mute(!isMuted()),
      voice: () => switchVoice(!voiceIsOn()),
      export: exportUnsent,
      camera: () => setCamera(!hasCamera),
      hear: () => setHears(!hears),
      leave,
      'taken-away': () => send({ kind: 'taken-away' }),
      'it-has-happened': () => send({ kind: 'it-has-happened' }),
      'dose-more': () => closeAfter({ kind: 'dose', change: 0.5 }),
      'dose-less': () => closeAfter({ kind: 'dose', change: -0.5 }),
      'read-back': () => closeAfter({ kind: 'read-back' }),
      label: () => setPanel('label'),
      gas: () => setPanel('gas'),
      mark: () => setPanel('mark'),
      fill: () => setPanel('fill'),
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
    else if (actKeys[upper] !== undefined) act(actKeys[upper]);
    else if (eventKeys[upper] !== undefined) send(eventKeys[upper]);
    else if (panelKeys[upper] !== undefined) setPanel(panelKeys[upper]);
  }
  const asked = (wish: Wish) => {
    if (wish.kind === 'key') pressed(wish.key, clock());
    else if (wish.kind === 'accept') send({ kind: 'accept' });
    else if (wish.kind === 'dead') send({ kind: 'not-done', reason: 'dead' });
    else send({ kind: 'dose', change: wish.microlitres - state.board.facts.dose });
  };
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
        {hears ? <HearLine onHeard={asked} /> : null}
        {hasCamera ? <Camera onRead={present} /> : null}
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
      <BoardButtons send={send} open={setPanel} back={() => pressLeft(session, clock())} />
      {phase === 'paused' ? <Paused state={state} /> : null}
      {panel === null ? null : (
        <PanelOf panel={panel} state={state} send={send} present={present} close={close} act={act} />
      )}
      {stop === null ? null : <StopBlock state={state} stop={stop} onLeave={(exit) => act(exit)} />}
    </section>
  );
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
