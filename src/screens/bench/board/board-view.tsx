import { type CSSProperties, useEffect, useState } from 'react';
import { nextInQueue, phaseOf } from '#domain/insemination/bench-board.ts';
import { say, sayAny } from '#words/say.ts';
import { clock } from '../../link/this-device.ts';
import { QueenMark } from '../../parts/queen-mark.tsx';
import { cageOf, faceOf, lastWords, mothersCalled, queenCalled, tubeCalled, volume } from './sayings.ts';
import type { SessionState } from './session.ts';
import { TubeBar } from './tube-bar.tsx';

/** Cross, tube, doses left, tip. */
export function BoardHead({ state }: { state: SessionState }) {
  const { board, outlook, answer } = state;
  const { facts } = board;
  const full = Math.max(
    0,
    ...facts.rack.map(({ left }) => left ?? 0),
    outlook?.left ?? 0,
    ...answer.setup.rack.map(({ left }) => left ?? 0),
  );
  return (
    <header className="board-head">
      <span className="cross">
        {say('bench.cross')} <strong className="code">{answer.cross.code}</strong>
      </span>
      {outlook === null ? (
        <strong className="tube">{say('bench.no-tube')}</strong>
      ) : (
        <span className="tube">
          <strong className="code">{tubeCalled(state, outlook.tube)}</strong>
          {outlook.left === null ? (
            <span>{say('bench.tip-is-tube')}</span>
          ) : (
            <>
              <TubeBar left={outlook.left} full={full} dose={board.usualDose} />
              <span className="figures">
                {say('bench.doses-left', { left: volume(outlook.left), doses: outlook.doses ?? 0 })}
              </span>
            </>
          )}
        </span>
      )}
      <span className="tip">{say('bench.tip', { tip: facts.tip })}</span>
    </header>
  );
}

/** How many letters a code has: the longer, the smaller they are drawn (board.css). */
const letters = (code: string) => ({ '--letters': Math.max(5, code.length) }) as CSSProperties;

/** The queen under the microscope, or the next one; her dose; whose drones it holds. */
export function BoardHero({ state }: { state: SessionState }) {
  const { board, outlook } = state;
  const { facts } = board;
  const queen = facts.inHand?.queen ?? nextInQueue(facts);
  const face = queen === null ? null : faceOf(state, queen);
  const cage = queen === null ? null : cageOf(state, queen);
  const drawn = facts.inHand?.draws ?? [];
  return (
    <div className={facts.inHand === null ? 'board-hero waits' : 'board-hero held'}>
      <div className="who">
        {queen === null ? (
          <strong className="queen">{say('bench.all-done')}</strong>
        ) : (
          <>
            {face === null ? null : <QueenMark year={face.year} mark={face.mark} large />}
            <strong className="code queen" style={letters(queenCalled(state, queen))}>
              {queenCalled(state, queen)}
            </strong>
            <span className="board-note">
              {facts.inHand === null ? say('bench.next-queen') : say('bench.in-hand')}
              {cage === null ? '' : ` · ${say('bench.cage', { cage })}`}
              {face?.line ? ` · ${face.line}` : ''}
            </span>
          </>
        )}
      </div>
      <div className="dose">
        <strong className="figures">{volume(facts.dose)}</strong>
        <span className="unit">µl</span>
        {facts.dose === board.usualDose ? null : (
          <span className="board-note">{say('bench.usual-dose', { dose: volume(board.usualDose) })}</span>
        )}
        {drawn.length === 0 ? null : (
          <span className="board-note">
            {drawn.map((draw) => `${volume(draw.microlitres)} µl ${tubeCalled(state, draw.tube)}`).join(' + ')} +
          </span>
        )}
      </div>
      <p className="mothers">
        {outlook === null || outlook.mothers.length === 0
          ? say('bench.mother-unknown')
          : say('bench.next-dose-of', { mothers: mothersCalled(state, outlook.mothers) })}
      </p>
    </div>
  );
}

/** What a press means now. */
export function nowWords(state: SessionState): string {
  const { board } = state;
  const { facts } = board;
  const phase = phaseOf(board);
  if (phase === 'paused') return say('bench.now.paused');
  if (facts.inHand !== null)
    return say('bench.now.give', { queen: queenCalled(state, facts.inHand.queen), dose: volume(facts.dose) });
  const next = nextInQueue(facts);
  return next === null ? say('bench.now.nothing') : say('bench.now.place', { queen: queenCalled(state, next) });
}

/** The queen recorded last, and the exceptions of the one in hand. */
export function BoardLast({ state }: { state: SessionState }) {
  const { facts, also } = state.board;
  return (
    <p className="board-last">
      {lastWords(state)}
      {facts.inHand === null || facts.inHand.exceptions.length === 0 ? null : (
        <strong className="noted">
          {facts.inHand.exceptions.map((kind) => sayAny(`exception.${kind}`)).join(', ')}
        </strong>
      )}
      {also === null ? null : (
        <strong className="also">{say('bench.two-cages', { queen: queenCalled(state, also) })}</strong>
      )}
    </p>
  );
}

const dots = { waiting: '○', given: '◐', closed: '●', 'not-done': '◌' } as const;

const elapsed = (milliseconds: number): string => {
  const seconds = Math.max(0, Math.floor(milliseconds / 1000));
  const two = (n: number) => String(n).padStart(2, '0');
  return `${two(Math.floor(seconds / 3600))}:${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}`;
};

function Elapsed({ since }: { since: number }) {
  const [now, setNow] = useState(clock);
  useEffect(() => {
    const timer = setInterval(() => setNow(clock()), 1000);
    return () => clearInterval(timer);
  }, []);
  return <span className="figures elapsed">{elapsed(now - since)}</span>;
}

/** Every queen of the cross as a dot: to come, given, back in, not done. */
export function BoardDots({ state }: { state: SessionState }) {
  const { queue, inHand } = state.board.facts;
  const done = queue.filter(({ status }) => status !== 'waiting').length;
  const counts = (wanted: keyof typeof dots) => queue.filter(({ status }) => status === wanted).length;
  const words = say('bench.dots', {
    given: counts('given'),
    closed: counts('closed'),
    waiting: counts('waiting'),
    notDone: counts('not-done'),
  });
  return (
    <div className="board-dots">
      <span className="dots" role="img" aria-label={words}>
        {queue.map(({ queen, status }) => (
          <span key={queen} className={inHand?.queen === queen ? 'here' : undefined}>
            {dots[status]}
          </span>
        ))}
      </span>
      <span className="figures count">{say('bench.done-of', { done, all: queue.length })}</span>
      <Elapsed since={state.since} />
    </div>
  );
}
