import { useQuery } from '@tanstack/react-query';
import { useEffect, useMemo, useRef, useState, useSyncExternalStore } from 'react';
import type { ActSaid } from '#questions/bench/acts-of-board.ts';
import { type BoardAnswer, benchBoard } from '#questions/bench/bench-board.ts';
import type { Hand } from '#questions/bench/rebuild-board.ts';
import type { Answered } from '#questions/mechanism/question.ts';
import type { RecordId } from '#units/record-id.ts';
import { keepPages } from '../../link/outbox/keep-pages.ts';
import { keepFact, keptFact } from '../../link/outbox/kept.ts';
import { type OutboxState, openOutbox, outboxNow, post } from '../../link/outbox/outbox.ts';
import { getJson, OutOfReach, withInput } from '../../link/server.ts';
import { clock, deviceId, newId } from '../../link/this-device.ts';
import { noteSeen } from '../../link/use-ask.ts';
import { openSession, type Session, type SessionState } from './session.ts';

/** The book's answer and its number; `fromHere` when the server was away and this device's own copy is used. */
type Known = { board: BoardAnswer; seq: number; fromHere: boolean };

const snapshotKey = (day: string, cross: string) => `board ${day} ${cross}`;
const handKey = (day: string, cross: string) => `hand ${day} ${cross}`;

const quietly = <T>(work: Promise<T>): Promise<T | null> => work.catch(() => null);

/** Milliseconds without a press that count as a pause in the work, and the longest time to wait for one. */
const PAUSE = 700;
const LONGEST = 3_000;
let pressedAt = Number.NEGATIVE_INFINITY;

/** Notes that somebody is working: whatever can wait does. */
const noteWork = (): void => {
  pressedAt = performance.now();
};

/** A pause in the work: a foot that presses again is not kept waiting by a question. */
async function pauseInTheWork(): Promise<void> {
  const began = performance.now();
  while (performance.now() - pressedAt < PAUSE && performance.now() - began < LONGEST)
    await new Promise((resolve) => setTimeout(resolve, 100));
}

/** Seconds between two copies of a board on this device: the outbox holds what came since. */
const COPY_EVERY = 20_000;
const copiedAt = new Map<string, number>();

async function keepCopy(key: string, known: Known): Promise<void> {
  if (performance.now() - (copiedAt.get(key) ?? Number.NEGATIVE_INFINITY) < COPY_EVERY) return;
  copiedAt.set(key, performance.now());
  await quietly(keepFact(key, known));
}

async function askBoard(bench_day: RecordId, cross: RecordId): Promise<Known | null> {
  const key = snapshotKey(bench_day, cross);
  await pauseInTheWork();
  try {
    const path = withInput(`/api/ask/${benchBoard.name}`, { bench_day, cross });
    const { answer, seq } = await getJson<Answered<{ board: BoardAnswer | null }>>(path);
    noteSeen(seq);
    if (answer.board === null) return null;
    const known: Known = { board: answer.board, seq, fromHere: false };
    await keepCopy(key, known);
    return known;
  } catch (error) {
    if (!(error instanceof OutOfReach)) throw error;
    const kept = await quietly(keptFact<Known>(key));
    if (kept === null) throw error;
    return { ...kept, fromHere: true };
  }
}

/** Acts of this device that an answer of that number cannot hold yet; what the book set aside has happened all the same. */
const notIn = (seq: number, { acts }: OutboxState): ActSaid[] =>
  acts
    .filter((each) => each.state !== 'sent' || (each.seq ?? 0) > seq)
    .map(({ act: { id, name, input, done } }) => ({ id, name, input, done }));

/** The board of a cross on a bench day, kept up with the book and with what this device has not sent. */
export function useSession(bench_day: RecordId, cross: RecordId) {
  const query = useQuery({
    queryKey: [benchBoard.name, { bench_day, cross }, 'with its number'],
    queryFn: () => askBoard(bench_day, cross),
    retry: false,
  });
  const [session, setSession] = useState<Session | null>(null);
  const opening = useRef(false);
  const known = query.data ?? null;

  useEffect(() => {
    if (known === null || session !== null || opening.current) return;
    opening.current = true;
    const key = handKey(bench_day, cross);
    void openOutbox()
      .then(() => quietly(keptFact<Hand>(key)))
      .then((hand) =>
        setSession(
          openSession({
            answer: known.board,
            outbox: notIn(known.seq, outboxNow()),
            hand,
            newId,
            device: deviceId(),
            now: clock,
            keep: ({ acts, hand: value }) => {
              noteWork();
              return post({ acts, fact: { key, value } });
            },
          }),
        ),
      );
  }, [known, session, bench_day, cross]);

  useEffect(() => {
    void quietly(keepPages());
  }, []);

  const seenSeq = useRef(0);
  useEffect(() => {
    if (session === null || known === null || known.seq <= seenSeq.current) return;
    seenSeq.current = known.seq;
    void session.refresh(known.board, () => notIn(known.seq, outboxNow()));
  }, [session, known]);

  return { query, session, fromHere: known?.fromHere ?? false, isNowhere: query.data === null };
}

const none = { subscribe: () => () => {}, state: (): SessionState | null => null };

/** The state of a session, drawn anew at every change. */
export function useSessionState(session: Session | null): SessionState | null {
  const { subscribe, state } = useMemo(() => session ?? none, [session]);
  return useSyncExternalStore(subscribe, state);
}
