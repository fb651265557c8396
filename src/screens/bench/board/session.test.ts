import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { replay } from '#actions/mechanism/replay.ts';
import type { BenchEvent, Label } from '#domain/insemination/bench-board.ts';
import type { Act } from '#ports/store.ts';
import type { BoardAnswer } from '#questions/bench/bench-board.ts';
import type { Hand } from '#questions/bench/rebuild-board.ts';
import { epochOf } from '#units/moment.ts';
import { asks, at, type Station, station } from '../../../../tests/support/bench-station.ts';
import { databases, type Fresh } from '../../../../tests/support/databases.ts';
import { does, newId, portsOver } from '../../../../tests/support/doing.ts';
import { lastWords } from './sayings.ts';
import { openSession, type Session } from './session.ts';

let on: Fresh;
let st: Station;
let answer: BoardAnswer;

/** The device of these tests: what is on its disk survives, what is in its memory does not. */
let disk: { acts: Act[]; hand: Hand | null };
let clock: number;

const asked = async (): Promise<BoardAnswer> =>
  (await asks<{ board: BoardAnswer }>(on.store, 'bench-board', { bench_day: st.day, cross: st.crossB })).board;

beforeEach(async () => {
  on = (await databases[0]?.fresh()) as Fresh;
  st = await station(on.store, 6);
  answer = await asked();
  disk = { acts: [], hand: null };
  clock = epochOf(at('10:00'));
});
afterEach(() => on.end());

const open = (over = answer, outbox = disk.acts): Session =>
  openSession({
    answer: over,
    outbox,
    hand: disk.hand,
    newId,
    device: 'tablet',
    now: () => clock,
    async keep({ acts, hand }) {
      disk.acts.push(...acts);
      disk.hand = structuredClone(hand);
    },
  });

type Untimed = BenchEvent extends infer E ? (E extends unknown ? Omit<E, 'at'> : never) : never;
async function play(session: Session, ...events: Untimed[]): Promise<void> {
  for (const event of events) {
    clock += 2_000;
    await session.handle({ ...event, at: clock } as BenchEvent);
  }
}
const cage = (n: number): Label => {
  const queue = answer.setup.queue[n - 1];
  return { kind: 'cage', id: queue?.cage ?? '' };
};
const presented = (label: Label): Untimed => ({ kind: 'presented', label });
const accept: Untimed = { kind: 'accept' };
const factsOf = (session: Session) => session.state().board.facts;

test('what is shown has been kept before: acts go to the disk in order, each once', async () => {
  const session = open();
  await play(session, presented(cage(1)), { kind: 'digit', digit: 1 }, accept, presented(cage(1)), { kind: 'tip' });
  expect(disk.acts.map(({ name }) => name)).toEqual(['give-dose', 'home', 'note-at-bench']);
  expect(disk.acts[0]?.input).toMatchObject({ queen: st.queens[0], exceptions: ['leak'], tip: 3 });
  expect(disk.acts[1]?.input).toMatchObject({ colony: st.nucs[0] });
});

test('a keep that fails shows nothing as done', async () => {
  const session = openSession({
    answer,
    outbox: [],
    hand: null,
    newId,
    device: 'tablet',
    now: () => clock,
    keep: () => Promise.reject(new Error('disk full')),
  });
  await expect(play(session, presented(cage(1)))).rejects.toThrow('disk full');
  expect(factsOf(session).inHand).toBeNull();
});

test('news of the book that come while a dose is being kept do not take it off the board again', async () => {
  let kept = () => {};
  const slow = new Promise<void>((resolve) => {
    kept = resolve;
  });
  let isSlow = false;
  const session = openSession({
    answer,
    outbox: [],
    hand: null,
    newId,
    device: 'tablet',
    now: () => clock,
    async keep({ acts, hand }) {
      if (isSlow) await slow;
      disk.acts.push(...acts);
      disk.hand = structuredClone(hand);
    },
  });
  await play(session, accept);
  isSlow = true;
  const giving = session.handle({ kind: 'accept', at: clock + 2_000 });
  // The disk is slow; meanwhile the book answers, without the dose of course.
  const told = session.refresh(await asked(), () => [...disk.acts]);
  kept();
  await Promise.all([giving, told]);
  expect(factsOf(session).queue[0]).toMatchObject({ queen: st.queens[0], status: 'given' });
  clock += 4_000;
  await play(session, accept, accept);
  const given = disk.acts
    .filter(({ name }) => name === 'give-dose')
    .map(({ input }) => (input as { queen: string }).queen);
  expect(given).toEqual([st.queens[0], st.queens[1]]);
});

describe('killed and opened again', () => {
  test('the same queen is in hand, with her exceptions, her dose and the draw she already has', async () => {
    const session = open();
    await play(session, accept, accept, presented(cage(4)), { kind: 'digit', digit: 6 }, { kind: 'dose', change: 0.5 });
    const again = open();
    expect(factsOf(again)).toMatchObject({ dose: 8.5, inHand: { queen: st.queens[3], exceptions: ['bubble'] } });
    expect(factsOf(again).queue).toEqual(factsOf(session).queue);
  });

  test('a STOP is still a STOP, also for a label no book knows', async () => {
    const session = open();
    await session.present('5901234123457', ++clock);
    const again = open();
    expect(again.state().board.stop).toEqual(session.state().board.stop);
    await play(again, { kind: 'it-has-happened' });
    expect(disk.acts.at(-1)?.input).toMatchObject({ met: [{ kind: 'queen', code: '5901234123457' }] });
  });

  test('a pause is still a pause', async () => {
    await play(open(), { kind: 'pause' });
    expect(open().state().board.isPaused).toBe(true);
  });

  test('without its hand (another device) the next queen by the queue is next', async () => {
    await play(open(), accept, accept, presented(cage(4)));
    disk.hand = null;
    expect(factsOf(open())).toMatchObject({ inHand: null });
    expect(factsOf(open()).queue.filter(({ status }) => status === 'given')).toHaveLength(1);
  });
});

describe('the book and the board agree', () => {
  const send = () => replay(disk.acts, portsOver(on.store));

  test('after all is sent, the board made from the book alone is the board on the bench', async () => {
    const session = open();
    await play(session, presented(cage(1)), accept, presented(cage(1)), presented(cage(2)), accept);
    await play(session, { kind: 'exception', exception: 'leak' }, { kind: 'not-done', reason: 'dead' }, accept, accept);
    await play(session, { kind: 'step-back' }, { kind: 'capillary' }, accept);
    expect((await send()).map(({ outcome }) => outcome)).toEqual(disk.acts.map(() => 'applied'));
    const book = await asked();
    disk.hand = null;
    const { queue, rack, tube, tip, last } = factsOf(open(book, []));
    const here = factsOf(session);
    expect({ queue, rack, tube, tip, last }).toEqual({
      queue: here.queue,
      rack: here.rack,
      tube: here.tube,
      tip: here.tip,
      last: here.last,
    });
    expect(session.state().outlook).toMatchObject({ left: here.rack.find((each) => each.tube === here.tube)?.left });
  });

  test('sent twice, nothing is doubled', async () => {
    await play(open(), accept, accept, accept, accept);
    await send();
    expect((await send()).every(({ outcome }) => outcome === 'again')).toBe(true);
    const { leaf } = await asks<{ leaf: { left: number } }>(on.store, 'tube-story', { tube: st.tubes[0] });
    expect(leaf.left).toBe(52 - 16);
  });

  test('a dose stepped back at the desk is gone from the bench, and she is next again', async () => {
    const session = open();
    await play(session, accept, accept);
    await send();
    const [act] = await on.store.acts({ newest: 1 });
    await replay([{ id: newId(), name: 'step-back', input: { act: act?.id }, done: at('10:30') }], portsOver(on.store));
    await session.refresh(await asked(), () => []);
    expect(factsOf(session)).toMatchObject({ last: null });
    expect(factsOf(session).queue[0]?.status).toBe('waiting');
  });

  test('the mother of the next dose is told from the ledger and what is not sent yet', async () => {
    const session = open();
    expect(session.state().outlook?.mothers.map(({ of }) => of)).toEqual([{ kind: 'mother', queen: st.mother }]);
    await play(session, accept, accept);
    expect(session.state().outlook).toMatchObject({ left: 44, doses: 5, waiting: 5, runsShort: false });
  });
});

/** Whatever happens at the bench, in any order. */
const anyEvent: fc.Arbitrary<Untimed> = fc.oneof(
  { weight: 6, arbitrary: fc.constant(accept) },
  { weight: 4, arbitrary: fc.integer({ min: 1, max: 6 }).map((n): Untimed => ({ kind: 'digit', digit: n })) },
  { weight: 2, arbitrary: fc.constant<Untimed>({ kind: 'step-back' }) },
  { weight: 1, arbitrary: fc.constant<Untimed>({ kind: 'tip' }) },
  { weight: 1, arbitrary: fc.constant<Untimed>({ kind: 'capillary' }) },
  { weight: 1, arbitrary: fc.constant<Untimed>({ kind: 'dose', change: 0.5 }) },
  { weight: 1, arbitrary: fc.constant<Untimed>({ kind: 'not-done', reason: 'put-back' }) },
  { weight: 1, arbitrary: fc.constant<Untimed>({ kind: 'flag' }) },
  { weight: 1, arbitrary: fc.constant<Untimed>({ kind: 'pause' }) },
  { weight: 1, arbitrary: fc.constant<Untimed>({ kind: 'taken-away' }) },
  {
    weight: 4,
    arbitrary: fc
      .integer({ min: 1, max: 6 })
      .map((n): Untimed => ({ kind: 'presented', label: { kind: 'cage', id: String(n) } })),
  },
);

test('whatever happens, and whenever the browser is killed, the board opens as it was', async () => {
  const run = async (events: readonly Untimed[]) => {
    disk = { acts: [], hand: null };
    const session = open();
    for (const event of events) {
      const told = event.kind === 'presented' ? presented(cage(Number(event.label.id))) : event;
      await play(session, told);
      const again = open();
      const { last, ...facts } = factsOf(again);
      const { last: lastHere, ...here } = factsOf(session);
      expect(facts).toEqual(here);
      expect(last?.queen).toBe(lastHere?.queen);
      expect(again.state().board.isPaused).toBe(session.state().board.isPaused);
    }
  };
  await fc.assert(fc.asyncProperty(fc.array(anyEvent, { maxLength: 30 }), run), { seed: 20270612, numRuns: 60 });
}, 60_000);

describe('a tube that must not be used', () => {
  const soil = (tube: number) =>
    does(
      on.store,
      'tally-drones',
      {
        gave: 0,
        sources: [{ mother: st.mother }],
        reasons: [{ reason: 'faeces', count: 1, into: 0 }],
        into: [{ tube: st.tubes[tube], start: tube === 0 ? 52 : 60, end: tube === 0 ? 52 : 60 }],
      },
      { happened: true, done: at('09:00') },
    );
  const tube = (n: number): Label => ({ kind: 'tube', id: st.tubes[n] ?? '' });

  test('condemned: it is not on the rack, and its label stops the board', async () => {
    await soil(0);
    const session = open(await asked());
    expect(factsOf(session)).toMatchObject({ tube: st.tubes[1], rack: [{ tube: st.tubes[1] }] });
    await play(session, presented(cage(1)), presented(tube(0)));
    expect(session.state().board.stop).toMatchObject({ label: tube(0), belongsTo: null });
  });

  test('frozen: not on the rack until it is thawed', async () => {
    await does(on.store, 'step-tube', { tube: st.tubes[0], step: 'frozen' }, { happened: true, done: at('09:00') });
    expect((await asked()).setup.rack.map(({ tube: id }) => id)).toEqual([st.tubes[1]]);
    await does(on.store, 'step-tube', { tube: st.tubes[0], step: 'thawed' }, { happened: true, done: at('09:10') });
    expect((await asked()).setup.rack.map(({ tube: id }) => id)).toContain(st.tubes[0]);
  });

  test('condemned after doses out of it: it stays the open tube, with what is left; the next capillary never is it again', async () => {
    const session = open();
    await play(session, presented(cage(1)), accept);
    await replay(disk.acts, portsOver(on.store));
    await does(
      on.store,
      'tally-drones',
      {
        gave: 0,
        sources: [{ mother: st.mother }],
        reasons: [{ reason: 'faeces', count: 1, into: 0 }],
        into: [{ tube: st.tubes[0], start: 44, end: 44 }],
      },
      { happened: true, done: at('10:30') },
    );
    await session.refresh(await asked(), () => []);
    expect(factsOf(session).tube).toBe(st.tubes[0]);
    expect(factsOf(session).rack.find((each) => each.tube === st.tubes[0])).toMatchObject({ left: 44, isBarred: true });
    await play(session, { kind: 'capillary' });
    expect(factsOf(session).tube).toBe(st.tubes[1]);
    await play(session, { kind: 'capillary' });
    expect(factsOf(session).tube).toBe(st.tubes[1]);
    await play(session, presented(tube(0)));
    expect(session.state().board.stop).not.toBeNull();
  });

  test('condemned while the board is open and before a dose: the board opens the other one and says so', async () => {
    const session = open();
    expect(factsOf(session).tube).toBe(st.tubes[0]);
    await soil(0);
    await session.refresh(await asked(), () => []);
    expect(factsOf(session).tube).toBe(st.tubes[1]);
    expect(session.state().signs.at(-1)?.sign).toBe('next-tube');
  });
});

test('what went otherwise stands with the queen recorded last, once, also after a reload: she is not called good', async () => {
  const session = open();
  await play(
    session,
    presented(cage(1)),
    { kind: 'digit', digit: 6 },
    accept,
    { kind: 'digit', digit: 1 },
    { kind: 'flag' },
  );
  await play(session, { kind: 'digit', digit: 1 });
  const exceptions = ['bubble', 'leak', 'flagged'];
  expect(factsOf(session).last).toMatchObject({ queen: st.queens[0], exceptions });
  expect(lastWords(session.state())).toContain('leak');
  expect(lastWords(session.state())).not.toContain('good');
  expect(factsOf(open(answer, disk.acts)).last).toMatchObject({ exceptions });
  expect(disk.acts.filter(({ name }) => name === 'add-exception')).toHaveLength(2);
});
