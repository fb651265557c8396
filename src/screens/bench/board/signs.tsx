import { useEffect, useRef, useState } from 'react';
import { nextInQueue, type Sign } from '#domain/insemination/bench-board.ts';
import { say, sayAny } from '#words/say.ts';
import { lastStepWords, lastWords, mothersCalled, queenCalled, tubeCalled, volume } from './sayings.ts';
import type { GivenSign, SessionState } from './session.ts';
import { hush, sound } from './sounds.ts';
import { speak, spokenCode } from './voice.ts';

/** The shape of each sign: the twin of its sound. */
const shapes: Readonly<Record<Sign, string>> = {
  accepted: '●',
  flagged: '⚑',
  'stepped-back': '↶',
  mismatch: '■',
  rising: '△',
  offered: '△',
  lapsed: '',
  'two-cages': '◫',
  'nothing-waiting': '◌',
  'tube-runs-short': '▯',
  'next-tube': '▮',
  'read-back': '¶',
};

const spokenQueen = (state: SessionState, id: string) => spokenCode(queenCalled(state, id));

const inHandSpoken = (state: SessionState, id: string) =>
  say('bench.voice.queen', { queen: spokenQueen(state, id), dose: volume(state.board.facts.dose) });

/** Who is next and what she gets, while nobody is under the microscope. */
function nextSpoken(state: SessionState): string {
  const next = nextInQueue(state.board.facts);
  const dose = volume(state.board.facts.dose);
  return next === null ? '' : say('bench.voice.next', { queen: spokenQueen(state, next), dose });
}

const nextTubeWords = (state: SessionState): string => {
  const { tube } = state.board.facts;
  return tube === null ? '' : say('bench.voice.next-tube', { tube: spokenCode(tubeCalled(state, tube)) });
};

/** What the voice says after a sign; empty where it says nothing. */
function spokenAfter(sign: Sign, state: SessionState): string {
  const { facts } = state.board;
  switch (sign) {
    case 'accepted':
      return facts.inHand === null ? nextSpoken(state) : inHandSpoken(state, facts.inHand.queen);
    case 'next-tube':
      return nextTubeWords(state);
    case 'stepped-back':
      return say('bench.voice.stepped-back');
    case 'offered':
      return say('bench.voice.offered', { what: lastStepWords(state) ?? '' });
    case 'mismatch':
      return say('bench.voice.stop');
    case 'tube-runs-short':
      return say('bench.voice.runs-short', { doses: state.outlook?.doses ?? 0 });
    case 'read-back':
      return readBack(state);
    default:
      return '';
  }
}

/** What was recorded last, who is next and what she gets: asked for by `R`, and after a pause. */
export function readBack(state: SessionState): string {
  const last = lastWords(state);
  const mothers = state.outlook === null ? '' : mothersCalled(state, state.outlook.mothers);
  return mothers === '' ? last : `${last} ${say('bench.next-dose-of', { mothers })}`;
}

const SHOWN = 1_800;

/** Sounds, shapes and words of the signs as they are given, each once. */
export function Signs({ state }: { state: SessionState }) {
  const [shown, setShown] = useState<GivenSign | null>(null);
  const heard = useRef(state.signs.at(-1)?.n ?? 0);
  const latest = useRef(state);
  latest.current = state;
  useEffect(() => {
    const fresh = state.signs.filter(({ n }) => n > heard.current);
    const last = fresh.at(-1);
    if (last === undefined) return;
    heard.current = last.n;
    for (const { sign } of fresh) sound(sign);
    const words = fresh.map(({ sign }) => spokenAfter(sign, latest.current)).filter(Boolean);
    // A voice can wait until the picture is painted.
    if (words.length > 0) setTimeout(() => speak(words.join('. ')), 0);
    setShown(last);
  }, [state.signs]);
  useEffect(() => {
    if (shown === null) return;
    const timer = setTimeout(() => setShown(null), SHOWN);
    return () => clearTimeout(timer);
  }, [shown]);
  const isStopped = state.board.stop !== null;
  useEffect(() => {
    if (isStopped) return;
    hush();
    setShown(null);
  }, [isStopped]);
  return (
    <div className="board-sign" role="status" aria-live="polite">
      {shown === null || shapes[shown.sign] === '' ? null : (
        <>
          <span aria-hidden="true" className="shape">
            {shapes[shown.sign]}
          </span>{' '}
          {shown.sign === 'read-back' ? readBack(state) : sayAny(`bench.sign.${shown.sign}`)}
        </>
      )}
    </div>
  );
}
