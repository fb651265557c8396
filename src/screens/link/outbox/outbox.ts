import { useSyncExternalStore } from 'react';
import type { Act } from '#ports/store.ts';
import { getJson, OutOfReach, postJson, RefusedByServer, type SaidProblem } from '../server.ts';
import { forget, type KeptAct, keep, keepFact, keptActs, keptFact, settle, type ToKeep } from './kept.ts';

/** How the outbox stands: what is not sent yet, what was set aside, and whether the server answers. */
export type OutboxState = {
  acts: readonly KeptAct[];
  unsent: number;
  parked: number;
  reach: 'unknown' | 'reached' | 'away' | 'not-paired';
  /** False when this browser keeps nothing on the disk: acts are lost with the page. */
  durable: boolean;
};

type Replayed =
  | { id: string; outcome: 'applied' | 'again'; seq: number }
  | { id: string; outcome: 'parked'; problems: readonly SaidProblem[] };

/** At most so many acts in one letter. */
const MOST = 200;
/** Sent acts stay so many behind the newest: after a restore of the book they are offered again. */
const STAY = 300;
/** Old acts are taken off so many at a time. */
const SOME = 50;
/** Milliseconds until a picture has surely been painted. */
const AFTER_PAINT = 40;
const WAITS = [500, 1_000, 2_000, 5_000, 10_000];

let state: OutboxState = { acts: [], unsent: 0, parked: 0, reach: 'unknown', durable: true };
const listeners = new Set<() => void>();

function put(next: Partial<OutboxState>): void {
  const acts = next.acts ?? state.acts;
  const count = (wanted: KeptAct['state']) => acts.filter((each) => each.state === wanted).length;
  state = { ...state, ...next, unsent: count('unsent'), parked: count('parked') };
  for (const heard of listeners) heard();
}

const reload = async () => put({ acts: await keptActs() });

function listen(heard: () => void): () => void {
  listeners.add(heard);
  return () => {
    listeners.delete(heard);
  };
}

/** The outbox as it stands now. */
export const outboxNow = (): OutboxState => state;
/** The outbox as it stands, on a page. */
export const useOutbox = (): OutboxState => useSyncExternalStore(listen, outboxNow);

function settled(sent: readonly KeptAct[], replayed: readonly Replayed[]): KeptAct[] {
  const became = new Map(replayed.map((each) => [each.id, each]));
  return sent.flatMap((each): KeptAct[] => {
    const now = became.get(each.act.id);
    if (now === undefined) return [];
    return now.outcome === 'parked'
      ? [{ ...each, state: 'parked', problems: now.problems }]
      : [{ ...each, state: 'sent', seq: now.seq }];
  });
}

/** Writes what became of acts: in the page, and on the disk where the browser keeps anything. */
async function note(changed: readonly KeptAct[]): Promise<void> {
  const now = new Map(changed.map((each) => [each.n, each]));
  put({ acts: state.acts.map((each) => now.get(each.n) ?? each) });
  if (state.durable) await settle(changed);
}

/** A book restored from a copy has another epoch: what it may have lost is offered again; what it has is done only once. */
async function offerAgain(): Promise<void> {
  if (!state.durable) return;
  const { epoch } = await getJson<{ epoch: string }>('/api/book');
  const before = await keptFact<string>('epoch');
  if (before === epoch) return;
  const sent = before === null ? [] : state.acts.filter((each) => each.state === 'sent');
  await note(sent.map((each) => ({ ...each, state: 'unsent' })));
  await keepFact('epoch', epoch);
}

/** This device is not let in (any more): its acts are not at fault and wait until it is. */
const isShutOut = (error: unknown): boolean =>
  error instanceof RefusedByServer && [401, 403, 421].includes(error.status);

/** Sends some acts. A letter the book cannot read is sent act by act; one it cannot read alone is set aside. */
async function sendSome(some: readonly KeptAct[]): Promise<void> {
  try {
    const replayed = await postJson<Replayed[]>(
      '/api/acts',
      some.map(({ act }) => act),
    );
    await note(settled(some, replayed));
  } catch (error) {
    if (!(error instanceof RefusedByServer) || error.status >= 500 || isShutOut(error)) throw error;
    const [only, ...others] = some;
    if (only === undefined) return;
    if (others.length === 0) return note([{ ...only, state: 'parked', problems: error.problems }]);
    for (const each of some) await sendSome([each]);
  }
}

/** True once this page has reached the book, until it is away again: only then the book may be another. */
let isAcquainted = false;

async function sendOnce(): Promise<void> {
  if (!isAcquainted) await offerAgain();
  isAcquainted = true;
  for (;;) {
    const unsent = state.acts.filter((each) => each.state === 'unsent').slice(0, MOST);
    if (unsent.length === 0) break;
    await sendSome(unsent);
  }
  const old = new Set(state.acts.filter(({ state: is }) => is === 'sent').slice(0, -STAY));
  if (!state.durable || old.size < SOME) return;
  await forget([...old].map(({ n }) => n));
  put({ acts: state.acts.filter((each) => !old.has(each)) });
}

let sending: Promise<void> | null = null;
let failures = 0;
let timer: ReturnType<typeof setTimeout> | undefined;

const later = () => {
  clearTimeout(timer);
  timer = setTimeout(() => void send(), WAITS[Math.min(failures, WAITS.length - 1)]);
};

/** Whoever holds the lock sends for every page of this browser, so that the order holds. Plain http has no locks. */
const alone = <T>(work: () => Promise<T>): Promise<T> =>
  'locks' in navigator ? (navigator.locks.request('combwright.outbox', work) as Promise<T>) : work();

async function tryToSend(): Promise<void> {
  try {
    await alone(async () => {
      // Another page of this browser may have kept acts, or sent some.
      if (state.durable && !isAcquainted) await reload();
      await sendOnce();
    });
    failures = 0;
    if (state.reach !== 'reached') put({ reach: 'reached' });
  } catch (error) {
    if (!(error instanceof OutOfReach || error instanceof RefusedByServer)) throw error;
    failures += 1;
    isAcquainted = false;
    put({ reach: isShutOut(error) ? 'not-paired' : error instanceof OutOfReach ? 'away' : 'reached' });
    later();
  }
}

/** Sends what is unsent, in order, each act once; tries again by itself while the server is away. */
export function send(): Promise<void> {
  sending ??= tryToSend().finally(() => {
    sending = null;
    if (state.unsent > 0 && failures === 0) void send();
  });
  return sending;
}

/** Keeps acts on this device first, then sends them. Done when they are kept. */
export async function post(kept: ToKeep): Promise<void> {
  try {
    const made = await keep(kept);
    if (made.length > 0) put({ acts: [...state.acts, ...made] });
  } catch (error) {
    if (!(error instanceof DOMException)) throw error;
    inMemory(kept.acts);
  }
  // What was done is shown first, then sent.
  if (kept.acts.length > 0) setTimeout(() => void send(), AFTER_PAINT);
}

/** A browser that keeps nothing (a private window): the acts wait in the page, and the page says so. */
function inMemory(acts: readonly Act[]): void {
  const from = state.acts.at(-1)?.n ?? 0;
  const added = acts.map((act, i): KeptAct => ({ n: from + i + 1, act, state: 'unsent', seq: null, problems: [] }));
  put({ acts: [...state.acts, ...added], durable: false });
}

let opening: Promise<void> | null = null;

/** Looks at once whether anything is left from before, and sends it; again whenever the network comes back. */
export function openOutbox(): Promise<void> {
  opening ??= readOutbox();
  return opening;
}

async function readOutbox(): Promise<void> {
  try {
    await reload();
  } catch (error) {
    if (!(error instanceof DOMException)) throw error;
    put({ durable: false });
  }
  window.addEventListener('online', () => void send());
  void navigator.storage?.persist?.();
  void send();
}

/** The unsent and parked acts as a file a person can carry to the laptop. */
export function unsentFile(): Blob {
  const acts = state.acts.filter(({ state: is }) => is !== 'sent').map(({ act }) => act);
  return new Blob([`${JSON.stringify(acts, null, 1)}\n`], { type: 'application/json' });
}
