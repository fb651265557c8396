import { type BenchEvent, type Board, type Label, phaseOf, type Sign } from '#domain/insemination/bench-board.ts';
import { nextState } from '#domain/insemination/next-state.ts';
import { type TubeOutlook, tubeOutlook } from '#domain/insemination/outlook.ts';
import type { LedgerStory } from '#domain/semen/ledger-story.ts';
import type { Act } from '#ports/store.ts';
import {
  type ActSaid,
  actsToSend,
  inseminationOf,
  type Sending,
  standingIds,
  type ToSend,
} from '#questions/bench/acts-of-board.ts';
import type { BoardAnswer } from '#questions/bench/bench-board.ts';
import { type Hand, joined, readRack, rebuildBoard, type UnknownLabel } from '#questions/bench/rebuild-board.ts';
import type { RecordId } from '#units/record-id.ts';
import { resolveLabel } from './resolve-label.ts';

/** What the board gives out: a sign, numbered, with the time. */
export type GivenSign = { n: number; sign: Sign; at: number };

/** The session as a page sees it. A new object at every change. */
export type SessionState = {
  answer: BoardAnswer;
  board: Board;
  outlook: TubeOutlook | null;
  signs: readonly GivenSign[];
  unknown: ReadonlyMap<string, UnknownLabel>;
  /** When the queen in hand was placed, or the last act was done. */
  since: number;
};

export type SessionNeeds = {
  answer: BoardAnswer;
  /** Acts this device has not sent, or the answer does not hold yet. */
  outbox: readonly ActSaid[];
  hand: Hand | null;
  newId(): RecordId;
  device: string;
  /** Keeps acts and the hand on the device; only then is anything acknowledged. */
  keep(kept: { acts: readonly Act[]; hand: Hand }): Promise<void>;
  now(): number;
};

type Live = {
  answer: BoardAnswer;
  /** The ledgers as the answer tells them. */
  story: LedgerStory;
  outbox: ActSaid[];
  board: Board;
  actOf: Map<number, RecordId>;
  inseminations: { of: Map<string, RecordId>; whose: Map<RecordId, string> };
  unknown: Map<string, UnknownLabel>;
  signs: GivenSign[];
  since: number;
};

/** A session at the bench: events go in one by one, acts are kept before anything is shown. */
export type Session = {
  state(): SessionState;
  subscribe(heard: () => void): () => void;
  handle(event: BenchEvent): Promise<void>;
  /** A text read by a reader or typed: a label, or a command of the bench sheet. */
  present(text: string, at: number): Promise<string | null>;
  /**
   * The book has answered anew, or the outbox has changed. The outbox is asked for when its turn has come: while an act is still being kept
   * it does not hold that act yet, and a board made without it would offer the same queen a second dose.
   */
  refresh(answer: BoardAnswer, outboxThen: () => readonly ActSaid[]): Promise<void>;
};

const MOST_SIGNS = 12;

function opened({ answer, outbox, hand, now }: SessionNeeds): Live {
  const { board, actOf, inseminations } = rebuildBoard(answer, outbox, hand);
  return {
    answer,
    story: readRack(answer, []),
    outbox: [...outbox],
    board,
    actOf: new Map(actOf),
    inseminations: { of: new Map(inseminations.of), whose: new Map(inseminations.whose) },
    unknown: new Map(hand?.unknown ?? []),
    signs: [],
    since: now(),
  };
}

const boardOf = ({ answer }: Pick<Live, 'answer'>) => ({
  bench_day: answer.day.id,
  cross: answer.cross.id,
  zone: answer.day.zone,
});

/** Acts of this device the answer of the book does not hold yet. */
function pending({ answer, outbox }: Live): ActSaid[] {
  const known = new Set(answer.acts.map(({ id }) => id));
  return outbox.filter(({ id }) => !known.has(id));
}

type GivenInput = { act?: RecordId; collected?: unknown; draws?: { tube: string; microlitres: number }[] };

/** True when acts not sent yet do more to the ledgers than draw doses: then they have to be read anew. */
const changesLedgers = (ahead: readonly ActSaid[]): boolean =>
  ahead.some(({ name, input }) => name === 'step-back' || (input as GivenInput).collected !== undefined);

/** µl drawn from a tube by acts not sent yet. */
const drawnAhead = (tube: string | null, ahead: readonly ActSaid[]): number =>
  ahead
    .flatMap(({ input }) => (input as GivenInput).draws ?? [])
    .reduce((sum, draw) => (draw.tube === tube ? sum + draw.microlitres : sum), 0);

/** The open tube ahead. Reading ledgers takes long on a slow tablet, so it is done only when the book says something new. */
function outlookOf(live: Live): TubeOutlook | null {
  const ahead = pending(live);
  const catches = new Map(live.answer.ledger.catches.map((each) => [each.id, each]));
  if (changesLedgers(ahead)) {
    const story = readRack(live.answer, live.outbox);
    return tubeOutlook(live.board, { story, catches, drawnSince: 0 });
  }
  const drawnSince = drawnAhead(live.board.facts.tube, ahead);
  return tubeOutlook(live.board, { story: live.story, catches, drawnSince });
}

const stateOf = (live: Live): SessionState => ({
  answer: live.answer,
  board: live.board,
  outlook: outlookOf(live),
  signs: [...live.signs],
  unknown: live.unknown,
  since: live.since,
});

/** The acts that stand, of the book and the outbox, by id; an act of two parts stands twice. */
const standingIn = (live: Pick<Live, 'answer' | 'outbox'>): RecordId[] =>
  standingIds(joined(live.answer.acts, live.outbox), boardOf(live));

/** The last act that stands. */
const lastAct = (live: Live): RecordId | null => standingIn(live).at(-1) ?? null;

/** True when the book tells nothing this session does not know: then the board stays as it is, with all it remembers. */
function isNews(live: Live, answer: BoardAnswer, outbox: readonly ActSaid[]): boolean {
  const told = standingIn({ answer, outbox: [...outbox] });
  return (
    JSON.stringify(told) !== JSON.stringify(standingIn(live)) ||
    JSON.stringify(answer.setup) !== JSON.stringify(live.answer.setup)
  );
}

const handOf = (live: Live): Hand => ({
  after: lastAct(live),
  inHand: live.board.facts.inHand,
  dose: live.board.facts.dose,
  stop: live.board.stop,
  unknown: [...live.unknown],
});

function sendingOf(live: Live, { newId }: SessionNeeds): Sending {
  const { day, cross, homes, labels } = live.answer;
  return {
    bench_day: day.id,
    cross: cross.id,
    zone: day.zone,
    newId,
    actOf: live.actOf,
    inseminations: live.inseminations,
    homeOf: (queen) => homes[queen]?.id ?? null,
    unknown: (id) => live.unknown.get(id) ?? null,
    textOf: (id) => labels.find((label) => label.id === id)?.text ?? null,
  };
}

function noted(live: Live, made: readonly ToSend[]): void {
  for (const { id, name, input, ns } of made) {
    for (const n of ns) live.actOf.set(n, id);
    const { queen } = input as { queen?: string };
    if (name !== 'give-dose' || queen === undefined) continue;
    live.inseminations.of.set(queen, inseminationOf(id));
    live.inseminations.whose.set(inseminationOf(id), queen);
  }
  live.outbox.push(...made);
}

/** Opens a session. Its board is made of the book's acts and the outbox's: nothing hangs on what a page remembers. */
export function openSession(needs: SessionNeeds): Session {
  let live = opened(needs);
  let state = stateOf(live);
  let queue = Promise.resolve();
  const listeners = new Set<() => void>();
  const show = () => {
    state = stateOf(live);
    for (const heard of listeners) heard();
  };
  /** One after the other: an event waits until the acts of the one before it are kept. */
  const inTurn = <T>(work: () => Promise<T>): Promise<T> => {
    const done = queue.then(work);
    queue = done.then(
      () => {},
      () => {},
    );
    return done;
  };

  async function handle(event: BenchEvent): Promise<void> {
    const turn = nextState(live.board, event);
    const made = actsToSend(turn.acts, sendingOf(live, needs));
    const before = live.board;
    const next: Live = { ...live, board: turn.board, outbox: [...live.outbox] };
    noted(next, made);
    const isNew = before.facts !== turn.board.facts || before.stop !== turn.board.stop;
    if (made.length > 0 || isNew) {
      const acts = made.map(({ ns: _, ...act }): Act => ({ ...act, device: needs.device, happened: true }));
      await needs.keep({ acts, hand: handOf(next) });
      next.since = event.at;
    }
    const from = (live.signs.at(-1)?.n ?? 0) + 1;
    next.signs = [...live.signs, ...turn.signs.map((sign, i) => ({ n: from + i, sign, at: event.at }))].slice(
      -MOST_SIGNS,
    );
    const isQuiet = made.length === 0 && turn.signs.length === 0 && turn.board === before;
    live = next;
    if (!isQuiet) show();
  }

  /** A label nobody knows stands for the queen while none is in hand, for a tube while one is. */
  function unknownLabel(text: string): Label {
    const kind = phaseOf(live.board) === 'in-hand' ? 'tube' : 'queen';
    const known = [...live.unknown].find(([, each]) => each.code === text && each.kind === kind);
    const id = known?.[0] ?? needs.newId();
    live.unknown.set(id, { kind, code: text });
    return { kind, id };
  }

  return {
    state: () => state,
    subscribe(heard) {
      listeners.add(heard);
      return () => {
        listeners.delete(heard);
      };
    },
    handle: (event) => inTurn(() => handle(event)),
    present: (text, at) =>
      inTurn(async () => {
        const resolved = resolveLabel(text, live.board, live.answer.labels);
        if (resolved.kind === 'command') return resolved.command;
        const label = resolved.kind === 'label' ? resolved.label : unknownLabel(resolved.text);
        await handle({ kind: 'presented', label, at });
        return null;
      }),
    refresh: (answer, outboxThen) =>
      inTurn(async () => {
        const outbox = outboxThen();
        if (!isNews(live, answer, outbox)) {
          live = { ...live, answer, outbox: [...outbox], story: readRack(answer, []) };
          return show();
        }
        const { pedal, also } = live.board;
        const fresh = opened({ ...needs, answer, outbox, hand: handOf(live) });
        // Another tube than the one last shown, as when that one was condemned meanwhile: that is said, not only shown.
        const other = fresh.board.facts.tube !== null && fresh.board.facts.tube !== live.board.facts.tube;
        const told: GivenSign = { n: (live.signs.at(-1)?.n ?? 0) + 1, sign: 'next-tube', at: needs.now() };
        live = {
          ...fresh,
          board: { ...fresh.board, pedal, also },
          signs: other ? [...live.signs, told].slice(-MOST_SIGNS) : live.signs,
          since: live.since,
        };
        show();
      }),
  };
}
