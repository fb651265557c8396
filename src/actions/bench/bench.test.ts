import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { replay } from '#actions/mechanism/replay.ts';
import type { Row } from '#records/kinds.ts';
import type { RecordId } from '#units/record-id.ts';
import { asks, at, type Station, station } from '../../../tests/support/bench-station.ts';
import { databases, type Fresh } from '../../../tests/support/databases.ts';
import { does, newId, portsOver, tryTo } from '../../../tests/support/doing.ts';
import type { BenchSummary } from '../../questions/bench/bench-summary.ts';

let on: Fresh;
let st: Station;
beforeEach(async () => {
  on = (await databases[0]?.fresh()) as Fresh;
  st = await station(on.store, 3);
});
afterEach(() => on.end());

const codes = (result: unknown) => {
  const { problems, warnings } = result as { problems?: { code: string }[]; warnings?: { code: string }[] };
  return (problems ?? warnings ?? []).map(({ code }) => code);
};
type Kinds =
  | 'insemination'
  | 'ledger_line'
  | 'insemination_exception'
  | 'worry'
  | 'fate'
  | 'stay'
  | 'bench_queen'
  | 'queen'
  | 'bench_event'
  | 'mark';
const rows = async <N extends Kinds>(kind: N, where: object = {}): Promise<Row<N>[]> =>
  (await on.store.read([kind], (facts) => facts.find(kind, where as never))).answer as Row<N>[];

const dose = (queen: number, more: object = {}) => ({
  bench_day: st.day,
  cross: st.crossB,
  queen: st.queens[queen],
  at: at('10:00'),
  draws: [{ tube: st.tubes[0], microlitres: 8 }],
  tip: 3,
  ...more,
});
const give = (queen: number, more: object = {}) => tryTo(on.store, 'give-dose', dose(queen, more), { happened: true });
const given = async (queen: number, more: object = {}): Promise<RecordId> =>
  does(on.store, 'give-dose', dose(queen, more), { happened: true });
const left = async (tube: number) =>
  (await asks<{ leaf: { left: number } }>(on.store, 'tube-story', { tube: st.tubes[tube] })).leaf.left;
const summary = async () =>
  (await asks<{ summary: BenchSummary }>(on.store, 'bench-summary', { bench_day: st.day })).summary;

describe('the dose', () => {
  test('insemination, ledger line and exceptions are one act, stepped back as one', async () => {
    const operator = await does(on.store, 'record-person', { name: 'Anna' });
    await does(on.store, 'change-bench-day', { bench_day: st.day, operator });
    const id = await given(0, { exceptions: ['leak', 'second-try'] });
    expect(await rows('insemination')).toMatchObject([
      {
        id,
        queen: st.queens[0],
        day: '2027-06-12',
        moment: expect.stringContaining('T10:00'),
        operator,
        tip: '3',
        tries: 2,
        given_ul: 8,
        done: 1,
      },
    ]);
    expect((await rows('insemination_exception')).map(({ kind }) => kind)).toEqual(['leak', 'second-try']);
    expect(await left(0)).toBe(44);
    const [act] = await on.store.acts({ newest: 1 });
    await does(on.store, 'step-back', { act: act?.id });
    expect([await rows('insemination'), await rows('insemination_exception'), await left(0)]).toEqual([[], [], 52]);
  });

  test('odd record 14: the last 3 µl of one tube and 5 µl of the next are one insemination with two draws', async () => {
    await given(0, {
      draws: [
        { tube: st.tubes[0], microlitres: 3 },
        { tube: st.tubes[1], microlitres: 5 },
      ],
    });
    expect(await rows('insemination')).toMatchObject([{ given_ul: 8 }]);
    const [done] = (await summary()).crosses.flatMap(({ queens }) => queens);
    expect(done?.draws).toEqual([
      { tube: 'C-07', microlitres: 3 },
      { tube: 'C-08', microlitres: 5 },
    ]);
  });

  test('odd record 5: three doses by one person, two by another: lines with person, doses left right', async () => {
    const [anna, ben] = [
      await does(on.store, 'record-person', { name: 'Anna' }),
      await does(on.store, 'record-person', { name: 'Ben' }),
    ];
    await does(on.store, 'change-bench-day', { bench_day: st.day, operator: anna });
    await given(0);
    await given(1);
    await does(on.store, 'change-bench-day', { bench_day: st.day, operator: ben });
    await given(2);
    const persons = (await rows('ledger_line', { step: 'dose' })).map(({ person }) => person);
    expect(persons).toEqual([anna, anna, ben]);
    expect(await left(0)).toBe(28);
  });

  test('odd record 15: one drone, half to one queen, half to the next: collect and give from the tip', async () => {
    const from = await does(
      on.store,
      'tally-drones',
      { gave: 0, sources: [{ mother: st.mother }], into: [] },
      { happened: true },
    );
    const tip = await does(
      on.store,
      'mount-tip',
      { code: 'tip 4', catch: from },
      { happened: true, done: at('09:50') },
    );
    const ready = await asks<{ board: { setup: { rack: { tube: string; left: number | null }[] } } }>(
      on.store,
      'bench-board',
      { bench_day: st.day, cross: st.crossB },
    );
    expect(ready.board.setup.rack.find(({ tube }) => tube === tip)).toMatchObject({ left: null });
    const board = { bench_day: st.day, cross: st.crossB, at: at('09:55') };
    await does(
      on.store,
      'fill-tip',
      { ...board, collected: { tube: tip, catch: from, drones: 1, microlitres: 1.2 } },
      { happened: true },
    );
    for (const queen of [0, 1]) await given(queen, { draws: [{ tube: tip, microlitres: 0.6 }] });
    const [mothers] = (await summary()).crosses.map((cross) => cross.mothers);
    expect(mothers?.map(({ name }) => name)).toEqual(['M-07']);
    const story = await asks<{ leaf: { left: number; lines: { drones: number | null }[] } }>(on.store, 'tube-story', {
      tube: tip,
    });
    expect([story.leaf.left, story.leaf.lines[1]?.drones]).toEqual([0, 1]);
  });
});

describe('plans are refused, facts are not', () => {
  test.each([
    ['a queen who was not in the queue', { queen: () => st.stranger }, 'wrong-queen'],
    ['a tube of another cross', { draws: () => [{ tube: st.tubes[2], microlitres: 8 }] }, 'wrong-tube'],
    ['no tube said', { draws: () => [], microlitres: () => 8 }, 'tube-not-said'],
    [
      'a time tomorrow, from a fast clock',
      { at: () => '2027-06-13T10:00:00+02:00[Europe/Berlin]' },
      'moment-in-future',
    ],
    ['before its semen was collected', { at: () => at('06:00') }, 'dose-before-its-semen'],
    ['more than was in the tube', { draws: () => [{ tube: st.tubes[0], microlitres: 60 }] }, 'tube-overdrawn'],
  ])('%s: recorded, with a worry that stands until it is settled', async (_, odd, code) => {
    const more = Object.fromEntries(Object.entries(odd).map(([name, value]) => [name, (value as () => unknown)()]));
    expect(codes(await give(0, more))).toContain(code);
    expect(await rows('insemination')).toHaveLength(1);
    const worries = await rows('worry', { code, settled_on: null });
    expect(worries).toHaveLength(1);
    await does(on.store, 'settle-worry', { worry: worries[0]?.id, how: 'looked at it' });
    expect(await rows('worry', { code, settled_on: null })).toEqual([]);
  });

  test('the same from a form that plans is stopped', async () => {
    expect(codes(await tryTo(on.store, 'give-dose', dose(0, { queen: st.stranger })))).toContain('wrong-queen');
    expect(await rows('insemination')).toEqual([]);
  });

  test('a label no book knows was used all the same: written down, with its code', async () => {
    const met = newId();
    await does(on.store, 'give-dose', dose(0, { queen: met, met: [{ kind: 'queen', id: met, code: '19-444' }] }), {
      happened: true,
    });
    expect(await rows('queen', { id: met })).toMatchObject([{ code: '19-444', origin: 'found' }]);
    expect(await rows('worry', { code: 'wrong-queen' })).toHaveLength(1);
  });

  test('two doses of one queen on one day are two readings to choose from: never overwritten, never silent', async () => {
    await given(0);
    expect(codes(await give(0, { at: at('10:04'), draws: [{ tube: st.tubes[0], microlitres: 7.5 }] }))).toEqual([
      'dose-twice',
    ]);
    const [two] = (await summary()).twice;
    expect(two?.readings.map(({ given: microlitres }) => microlitres)).toEqual([8, 7.5]);
    expect((await summary()).worries).toEqual([]);
    // The first was the one: the second is stepped back, and the doubt with it.
    expect(two?.raisedBy).toBe(two?.readings[1]?.act);
    await does(on.store, 'step-back', { act: two?.readings[1]?.act, with_later: true }).catch(() => {});
    expect((await summary()).twice).toEqual([]);
    expect((await rows('insemination')).map(({ given_ul }) => given_ul)).toEqual([8]);
  });

  test('negative doses and unknown words are refused at their field', async () => {
    expect(await give(0, { draws: [{ tube: st.tubes[0], microlitres: -8 }] })).toMatchObject({
      problems: [{ path: 'draws.0.microlitres', code: 'too-small' }],
    });
    expect(await give(0, { exceptions: ['sneezed'] })).toMatchObject({ problems: [{ path: 'exceptions.0' }] });
  });

  test('a queen served from a soiled tube is named', async () => {
    const reasons = [{ reason: 'faeces', count: 1, into: 0 }];
    const soil = {
      gave: 1,
      sources: [{ mother: st.mother }],
      reasons,
      into: [{ tube: st.tubes[0], start: 52, end: 53 }],
    };
    await does(on.store, 'tally-drones', soil, { happened: true, done: at('09:00') });
    expect(codes(await give(0))).toContain('from-soiled-tube');
    const story = await asks<{ leaf: { servedSoiled: { name: string }[] } }>(on.store, 'tube-story', {
      tube: st.tubes[0],
    });
    expect(story.leaf.servedSoiled.map(({ name }) => name)).toEqual(['27-001']);
  });
});

describe('around the dose', () => {
  test('an exception noted late; the same twice is once; one who died has her fate', async () => {
    const insemination = await given(0);
    const add = (exception: string) => does(on.store, 'add-exception', { insemination, exception }, { happened: true });
    await add('leak');
    await add('leak');
    await add('died');
    expect((await rows('insemination_exception')).map(({ kind }) => kind)).toEqual(['leak', 'died']);
    expect(await rows('fate')).toMatchObject([{ queen: st.queens[0], kind: 'died' }]);
  });

  test('a flag is settled with its reason, or with nothing after all', async () => {
    const insemination = await given(0, { exceptions: ['flagged'] });
    await does(on.store, 'settle-flag', { insemination, reason: 'bubble' });
    expect((await rows('insemination_exception')).map(({ kind, words }) => [kind, words])).toEqual([
      ['flagged', 'bubble'],
      ['bubble', null],
    ]);
    const other = await given(1);
    expect(codes(await tryTo(on.store, 'settle-flag', { insemination: other }))).toEqual(['not-flagged']);
  });

  test('not done: dead in the cage ends her story, put back does not', async () => {
    const not = (queen: number, reason: string) =>
      does(
        on.store,
        'not-done',
        { bench_day: st.day, cross: st.crossB, queen: st.queens[queen], reason },
        { happened: true },
      );
    await not(0, 'dead');
    await not(1, 'put-back');
    expect(await rows('fate')).toMatchObject([{ queen: st.queens[0], kind: 'died' }]);
    expect((await rows('insemination')).map(({ done, not_done_why }) => [done, not_done_why])).toEqual([
      [0, 'dead'],
      [0, 'put-back'],
    ]);
  });

  test('she goes back in: the record closes; into her nuc her stay moves, only once', async () => {
    const insemination = await given(0);
    await does(on.store, 'home', { insemination }, { happened: true });
    expect((await rows('insemination'))[0]?.closed).not.toBeNull();
    const caged = await does(on.store, 'record-cage', { number: '1b' });
    await does(on.store, 'move-queen', { queen: st.queens[0], cage: caged });
    await does(on.store, 'home', { insemination, colony: st.nucs[0], excluder: true }, { happened: true });
    const open = await rows('stay', { queen: st.queens[0], to_earliest: null });
    expect(open).toMatchObject([{ colony: st.nucs[0], role: 'heads' }]);
    const count = (await rows('stay')).length;
    await does(on.store, 'home', { insemination, colony: st.nucs[0] }, { happened: true });
    expect(await rows('stay')).toHaveLength(count);
  });

  test('gas for the whole queue is one act, and the board counts it', async () => {
    await does(on.store, 'give-co2', { queens: st.queens, minutes: 2, relation: 'before' });
    const { board } = await asks<{ board: { co2: Record<string, number> } }>(on.store, 'bench-board', {
      bench_day: st.day,
      cross: st.crossB,
    });
    expect(Object.values(board.co2)).toEqual([1, 1, 1]);
  });

  test('code, disc and clip under the gas: the year gives the colour (2027 yellow)', async () => {
    await does(on.store, 'mark-at-bench', { queen: st.queens[0], code: '27-101', disc: 14, clip: 'left' });
    expect(await rows('mark')).toMatchObject([{ colour: 'yellow', disc: 14, clip: 'left' }]);
    expect(await rows('queen', { id: st.queens[0] })).toMatchObject([{ code: '27-101' }]);
  });

  test('a STOP that was passed is a worry until somebody says why', async () => {
    const stop = { bench_day: st.day, cross: st.crossB, what: 'stop-passed', words: '91' };
    const event = await does(on.store, 'note-at-bench', stop, { happened: true });
    expect(await rows('worry', { settled_on: null })).toMatchObject([{ code: 'stop-was-passed', about: event }]);
    await does(on.store, 'say-why-stopped', { event, reason: 'cages exchanged on the tray' });
    expect(await rows('worry', { settled_on: null })).toEqual([]);
    expect((await summary()).stops).toMatchObject([
      { passed: true, label: '91', reason: 'cages exchanged on the tray' },
    ]);
  });

  test('put away: tubes measured again, items ticked, the day closed; the summary tells the drones per mother', async () => {
    await given(0);
    await given(1, { exceptions: ['leak'] });
    const remeasured = [{ tube: st.tubes[0], microlitres: 35 }];
    await does(on.store, 'close-bench-day', { bench_day: st.day, ticked: ['tips'], remeasured }, { happened: true });
    expect(await left(0)).toBe(35);
    const { crosses, day, tubes } = await summary();
    const [cross] = crosses;
    expect(day.closed).not.toBeNull();
    expect(tubes).toMatchObject([{ code: 'C-07', left: 35, remeasured: true }]);
    expect(cross).toMatchObject({ doses: 2, microlitres: 16, exceptions: { leak: 1 } });
    expect(cross?.mothers).toMatchObject([{ name: 'M-07', share: 1, drones: 16 }]);
  });
});

describe('the queue', () => {
  const queue = (queens: object[]) => tryTo(on.store, 'queue-queens', { bench_day: st.day, cross: st.crossB, queens });

  test('is set anew: order, cages, those left out go', async () => {
    await queue([{ queen: st.queens[2], cage: '7' }, { queen: st.queens[0] }]);
    const mine = (await rows('bench_queen', { cross: st.crossB })).sort((a, b) => a.place - b.place);
    expect(mine.map(({ queen }) => queen)).toEqual([st.queens[2], st.queens[0]]);
  });

  test('the nuc she came from is where she goes home to', async () => {
    const [first] = await rows('bench_queen', { queen: st.queens[0] });
    expect(first?.home).toBe(st.nucs[0]);
  });

  test('a queen or a cage twice, or a queen of another cross, is refused and named', async () => {
    const [a, b] = st.queens;
    expect(codes(await queue([{ queen: a }, { queen: a }]))).toEqual(['queued-twice']);
    expect(
      codes(
        await queue([
          { queen: a, cage: '1' },
          { queen: b, cage: '1' },
        ]),
      ),
    ).toEqual(['cage-twice']);
    expect(codes(await queue([{ queen: st.stranger }]))).toEqual(['queued-for-another']);
  });
});

test('acts of a device are done once each, in their order; one that cannot be is parked and stops nothing', async () => {
  const device = 'tablet';
  const act = (n: number, name: string, input: unknown) => ({ id: newId(), name, input, done: at('10:00'), device, n });
  const acts = [
    act(1, 'give-dose', dose(0)),
    act(2, 'add-exception', { insemination: newId(), exception: 'leak' }),
    act(3, 'give-dose', dose(1)),
  ];
  const ports = portsOver(on.store);
  expect((await replay(acts, ports)).map(({ outcome }) => outcome)).toEqual(['applied', 'parked', 'applied']);
  expect((await replay(acts, ports)).map(({ outcome }) => outcome)).toEqual(['again', 'parked', 'again']);
  expect(await rows('insemination')).toHaveLength(2);
  expect((await on.store.parked()).map(({ act: each }) => each.n)).toEqual([2]);
});
