import { describe, expect, test } from 'vitest';
import { drawnBy, readLedger } from '#domain/semen/ledger.ts';
import { catchOf, ledgerBook } from '#domain/semen/ledger-fixtures.ts';
import { mother } from '#domain/semen/mating-fixtures.ts';
import {
  type BenchAct,
  type BenchEvent,
  type Board,
  type BoardSetup,
  type Label,
  openBoard,
  phaseOf,
  type Sign,
} from './bench-board.ts';
import { daySummary, dronesPerMother } from './day-summary.ts';
import { doubtsOfDose } from './dose-doubts.ts';
import { nextState } from './next-state.ts';
import { tubeOutlook } from './outlook.ts';
import { putAway } from './put-away.ts';
import { resumeBoard } from './resume-board.ts';
import { standingActs } from './standing-acts.ts';
import { tubeFit } from './tube-fit.ts';

const QUEENS = 12;
const setup: BoardSetup = {
  cross: 'B',
  usualDose: 8,
  queue: Array.from({ length: QUEENS }, (_, i) => ({ queen: `Q${i + 1}`, cage: `cage ${i + 1}` })),
  rack: [
    { tube: 'C-07', left: 60, end: 'filled', collectFrom: null },
    { tube: 'C-08', left: 60, end: 'filled', collectFrom: null },
  ],
  elsewhere: { queens: [{ queen: 'X1', cage: 'cage 91', cross: 'A' }], tubes: [{ tube: 'C-01', cross: 'A' }] },
  tip: 3,
};

type Told = Omit<BenchEvent, 'at'> extends infer E ? E : never;
const cage = (n: number): Label => ({ kind: 'cage', id: `cage ${n}` });
const presented = (label: Label) => ({ kind: 'presented', label }) as const;
const ACCEPT = { kind: 'accept' } as const;

/** Plays events a second apart, and gives the board, all acts, all signs. */
function play(board: Board, ...events: object[]) {
  const acts: BenchAct[] = [];
  const signs: Sign[] = [];
  let current = board;
  events.forEach((event, i) => {
    const turn = nextState(current, { at: 1000 * (i + 1), ...(event as Told) } as BenchEvent);
    current = turn.board;
    acts.push(...turn.acts);
    signs.push(...turn.signs);
  });
  return { board: current, acts, signs };
}

const kinds = (acts: readonly BenchAct[]) => acts.map((act) => act.kind);
const given = (acts: readonly BenchAct[]) => standingActs(acts).filter((act) => act.kind === 'dose-given');

describe('an uneventful queen', () => {
  test('with a reader: carried past, one press, carried back in closes the record', () => {
    const { board, acts } = play(openBoard(setup), presented(cage(1)), ACCEPT, presented(cage(1)));
    expect(kinds(acts)).toEqual(['dose-given', 'closed']);
    expect(acts[0]).toEqual({
      n: 1,
      at: 2000,
      kind: 'dose-given',
      queen: 'Q1',
      cross: 'B',
      draws: [{ tube: 'C-07', end: 'filled', microlitres: 8 }],
      microlitres: 8,
      tip: 3,
      exceptions: [],
      doubts: [],
    });
    expect(board.facts.queue[0]?.status).toBe('closed');
  });

  test('without a reader: press = queen in, press = given; twelve queens are twenty-four presses', () => {
    const { board, acts } = play(
      openBoard({ ...setup, rack: [{ ...setup.rack[0], tube: 'C-07', left: 96, end: 'filled', collectFrom: null }] }),
      ...Array(24).fill(ACCEPT),
    );
    expect(given(acts).map((act) => act.queen)).toEqual(setup.queue.map((entry) => entry.queen));
    expect(board.facts.rack[0]?.left).toBe(0);
    expect(play(board, ACCEPT).signs).toEqual(['nothing-waiting']);
  });

  test('a pedal does the same as the key: down, up', () => {
    let board = nextState(openBoard(setup), { at: 0, ...presented(cage(4)) }).board;
    board = nextState(board, { kind: 'down', pedal: 'one', at: 1000 }).board;
    const turn = nextState(board, { kind: 'up', pedal: 'one', at: 1200 });
    expect(turn.acts).toMatchObject([{ kind: 'dose-given', queen: 'Q4', at: 1200 }]);
  });
});

describe('wrong queen or wrong tube before the dose', () => {
  test('stops everything until one of two exits is taken', () => {
    const { board, acts, signs } = play(
      openBoard(setup),
      presented({ kind: 'cage', id: 'cage 91' }),
      ACCEPT,
      { kind: 'step-back' },
      { kind: 'pause' },
    );
    expect(phaseOf(board)).toBe('stopped');
    expect(board.stop).toEqual({
      label: { kind: 'cage', id: 'cage 91' },
      belongsTo: 'A',
      openCross: 'B',
      inHand: null,
    });
    expect([acts, signs]).toEqual([[], ['mismatch']]);
  });

  test('"taken away" goes on where it was', () => {
    const { board, acts } = play(openBoard(setup), presented(cage(1)), presented({ kind: 'tube', id: 'C-01' }), {
      kind: 'taken-away',
    });
    expect(acts).toMatchObject([{ kind: 'stopped', exit: 'taken-away', belongsTo: 'A' }]);
    expect(board.facts.inHand?.queen).toBe('Q1');
  });

  test('"it has happened" is recorded with its doubt: wrong queen', () => {
    const { board, acts } = play(openBoard(setup), presented({ kind: 'cage', id: 'cage 91' }), {
      kind: 'it-has-happened',
    });
    expect(acts).toMatchObject([
      { kind: 'stopped', exit: 'it-has-happened' },
      { kind: 'dose-given', queen: 'X1', doubts: ['wrong-queen'] },
    ]);
    expect(board.facts.rack[0]?.left).toBe(52);
  });

  test('"it has happened" is recorded with its doubt: wrong tube, and the own tube is open again', () => {
    const { board, acts } = play(openBoard(setup), presented(cage(1)), presented({ kind: 'tube', id: 'C-01' }), {
      kind: 'it-has-happened',
    });
    expect(acts[1]).toMatchObject({ queen: 'Q1', draws: [{ tube: 'C-01', microlitres: 8 }], doubts: ['wrong-tube'] });
    expect(board.facts).toMatchObject({ tube: 'C-07', inHand: null });
    expect(play(board, { kind: 'step-back' }).board.facts).toMatchObject({ tube: 'C-07', inHand: { queen: 'Q1' } });
  });

  test('200 presentations with 20 wrong ones: 20 stopped, 0 false stops', () => {
    let board = openBoard(setup);
    let stops = 0;
    for (let i = 0; i < 200; i++) {
      const isWrong = i % 10 === 3;
      const wrong: Label = i % 20 === 3 ? { kind: 'tube', id: 'C-01' } : { kind: 'cage', id: 'cage 91' };
      const label = isWrong
        ? wrong
        : i % 7 === 0
          ? ({ kind: 'tube', id: i % 2 ? 'C-07' : 'C-08' } as const)
          : cage(1 + (i % QUEENS));
      const turn = nextState(board, { at: i * 5000, ...presented(label) });
      expect(turn.signs.includes('mismatch')).toBe(isWrong);
      stops += Number(turn.board.stop !== null);
      board = nextState(turn.board, { at: i * 5000 + 1000, kind: isWrong ? 'taken-away' : 'accept' }).board;
    }
    expect(stops).toBe(20);
  });

  test('a second cage before "given" opens and closes nothing; the reader outranks the queue', () => {
    const second = play(openBoard(setup), presented(cage(1)), presented(cage(2)));
    expect(second.board).toMatchObject({ also: 'Q2', facts: { inHand: { queen: 'Q1' } } });
    expect(second.signs).toEqual(['accepted', 'two-cages']);
    const corrected = play(openBoard(setup), ACCEPT, presented(cage(5)), ACCEPT);
    expect(given(corrected.acts).map((act) => act.queen)).toEqual(['Q5']);
  });
});

describe('doses', () => {
  const short = {
    ...setup,
    rack: [
      { ...setup.rack[0], tube: 'C-07', left: 3, end: 'filled' as const, collectFrom: null },
      { tube: 'C-08', left: 40, end: 'filled' as const, collectFrom: null },
    ],
  };

  test('odd record 14: the last 3 µl of C-07 and 5 µl of C-08 are one dose with two draws', () => {
    const { acts, board } = play(openBoard(short), presented(cage(1)), { kind: 'capillary' }, ACCEPT);
    expect(given(acts)[0]).toMatchObject({
      microlitres: 8,
      draws: [
        { tube: 'C-07', microlitres: 3 },
        { tube: 'C-08', microlitres: 5 },
      ],
      doubts: [],
    });
    expect(board.facts.rack.map((tube) => tube.left)).toEqual([0, 35]);
  });

  test('drawn from a tube that cannot hold it: recorded, overdrawn, doubted', () => {
    const { acts, board } = play(openBoard(short), presented(cage(1)), ACCEPT);
    expect(given(acts)[0]?.doubts).toEqual(['tube-overdrawn']);
    expect(board.facts.rack[0]?.left).toBe(-5);
  });

  test('± 0.5 µl changes this dose only', () => {
    const { acts, board } = play(openBoard(setup), presented(cage(1)), { kind: 'dose', change: 0.5 }, ACCEPT);
    expect(given(acts)[0]?.microlitres).toBe(8.5);
    expect(board.facts.dose).toBe(8);
  });

  test('the tube warns while one dose is still in it, not after', () => {
    const left24 = { ...setup, rack: [{ tube: 'C-07', left: 24, end: 'filled' as const, collectFrom: null }] };
    const turns = play(openBoard(left24), ACCEPT, ACCEPT, ACCEPT, ACCEPT);
    expect(turns.signs).toEqual(['accepted', 'accepted', 'accepted', 'accepted', 'tube-runs-short']);
    expect(turns.board.facts.rack[0]?.left).toBe(8);
  });

  test('no tube open: the dose is recorded with the doubt that its tube is not said', () => {
    const { acts } = play(openBoard({ ...setup, rack: [] }), ACCEPT, ACCEPT);
    expect(given(acts)[0]).toMatchObject({ draws: [], doubts: ['tube-not-said'] });
  });

  test('collect and give: every dose is collected and given in one press', () => {
    const tip = { tube: 'tip 3', left: null, end: 'filled' as const, collectFrom: { catch: 'm', drones: 9 } };
    const { acts } = play(openBoard({ ...setup, rack: [tip] }), ACCEPT, ACCEPT);
    expect(acts).toMatchObject([
      { kind: 'collected', tube: 'tip 3', catch: 'm', drones: 9, microlitres: 8, isShared: false },
      { kind: 'dose-given', draws: [{ tube: 'tip 3', microlitres: 8 }] },
    ]);
  });

  test('odd record 15 at the bench: one drone of 1.2 µl, half to each of two queens', () => {
    const tip = { tube: 'tip 3', left: null, end: 'filled' as const, collectFrom: { catch: 'm', drones: null } };
    const one = { kind: 'filled', drones: 1, microlitres: 1.2 };
    const { acts, board } = play(
      openBoard({ ...setup, usualDose: 0.6, rack: [tip] }),
      one,
      ACCEPT,
      ACCEPT,
      ACCEPT,
      ACCEPT,
    );
    expect(kinds(acts)).toEqual(['collected', 'dose-given', 'dose-given']);
    expect(acts[0]).toMatchObject({ drones: 1, microlitres: 1.2 });
    expect(board.facts.rack[0]?.left).toBeCloseTo(0, 12);
  });
});

describe('exceptions, not done, around the queens', () => {
  test('a digit before the dose goes with it, after it goes to the queen just given; the same twice is once', () => {
    const { acts } = play(
      openBoard(setup),
      presented(cage(1)),
      { kind: 'digit', digit: 1 },
      { kind: 'digit', digit: 1 },
      ACCEPT,
      { kind: 'digit', digit: 2 },
    );
    expect(given(acts)[0]?.exceptions).toEqual(['leak']);
    expect(acts.at(-1)).toMatchObject({ kind: 'exception', queen: 'Q1', exception: 'hard-to-pass' });
    expect(play(openBoard(setup), { kind: 'digit', digit: 0 }).signs).toEqual([]);
  });

  test('the right pedal only flags; the reason is asked at put-away until one is noted', () => {
    const flagged = play(openBoard(setup), presented(cage(1)), ACCEPT, { kind: 'flag' });
    expect(putAway(flagged.board, flagged.acts).withoutReason).toEqual(['Q1']);
    const explained = play(flagged.board, { kind: 'exception', exception: 'woke' });
    expect(putAway(explained.board, [...flagged.acts, ...explained.acts]).withoutReason).toEqual([]);
  });

  test('not done: one key, and the queue goes on; put back for tomorrow may still come', () => {
    const { acts, board } = play(
      openBoard(setup),
      { kind: 'not-done', reason: 'put-back' },
      ACCEPT,
      { kind: 'not-done', reason: 'dead' },
      presented(cage(1)),
      ACCEPT,
    );
    expect(acts.slice(0, 2)).toMatchObject([
      { queen: 'Q1', reason: 'put-back' },
      { queen: 'Q2', reason: 'dead' },
    ]);
    expect(given(acts).map((act) => act.queen)).toEqual(['Q1']);
    expect(board.facts.queue.map((entry) => entry.status).slice(0, 3)).toEqual(['given', 'not-done', 'waiting']);
  });

  test('tip, gas and code are acts of their own', () => {
    const { acts } = play(
      openBoard(setup),
      { kind: 'tip' },
      presented(cage(1)),
      { kind: 'co2', minutes: 4 },
      { kind: 'coded', code: '27-014', disc: 14, clip: null },
      ACCEPT,
    );
    expect(acts).toMatchObject([
      { kind: 'tip', tip: 4 },
      { kind: 'co2', queen: 'Q1' },
      { kind: 'coded', queen: 'Q1', code: '27-014' },
      { tip: 4 },
    ]);
  });

  test('a pause takes nothing but the press that ends it', () => {
    const { acts, board } = play(openBoard(setup), ACCEPT, { kind: 'pause' }, presented(cage(9)), ACCEPT, ACCEPT);
    expect(kinds(acts)).toEqual(['paused', 'resumed', 'dose-given']);
    expect(board.facts.last?.queen).toBe('Q1');
  });
});

describe('step back', () => {
  test('names the act, puts the board back, up to the start of the day', () => {
    const day = [
      ACCEPT,
      ACCEPT,
      { kind: 'tip' },
      ACCEPT,
      { kind: 'digit', digit: 1 },
      ACCEPT,
      { kind: 'flag' },
      { kind: 'not-done', reason: 'gone' },
    ];
    const done = play(openBoard(setup), ...day);
    const back = play(done.board, ...Array(day.length).fill({ kind: 'step-back' }));
    expect(back.board.facts).toEqual(openBoard(setup).facts);
    expect(standingActs([...done.acts, ...back.acts])).toEqual([]);
    expect(play(back.board, { kind: 'step-back' })).toMatchObject({ acts: [], signs: ['nothing-waiting'] });
  });

  test('a hold offers it only where there is something to step back', () => {
    const hold: BenchEvent[] = [
      { kind: 'down', pedal: 'one', at: 0 },
      { kind: 'tick', at: 1000 },
      { kind: 'tick', at: 1500 },
      { kind: 'up', pedal: 'one', at: 1900 },
    ];
    const run = (board: Board) =>
      hold.reduce(
        (turn, event) => {
          const next = nextState(turn.board, event);
          return { board: next.board, signs: [...turn.signs, ...next.signs] };
        },
        { board, signs: [] as Sign[] },
      );
    expect(run(openBoard(setup)).signs).toEqual([]);
    const placed = run(play(openBoard(setup), ACCEPT, ACCEPT).board);
    expect(placed.signs).toEqual(['rising', 'offered']);
    const down = nextState(placed.board, { kind: 'down', pedal: 'one', at: 2600 });
    const up = nextState(down.board, { kind: 'up', pedal: 'one', at: 2800 });
    expect(up).toMatchObject({ acts: [{ kind: 'step-back' }], signs: ['stepped-back'] });
    expect(up.board.facts.inHand?.queen).toBe('Q1');
  });
});

describe('resume after a kill', () => {
  test('from what was recorded the board opens at the same queen, tube, tip and remainder', () => {
    const events = [
      ACCEPT,
      ACCEPT,
      { kind: 'tip' },
      ACCEPT,
      ACCEPT,
      { kind: 'flag' },
      { kind: 'step-back' },
      { kind: 'not-done', reason: 'dead' },
      { kind: 'capillary' },
      presented(cage(4)),
      ACCEPT,
      presented(cage(4)),
    ];
    for (let upTo = 0; upTo <= events.length; upTo++) {
      const { board, acts } = play(openBoard(setup), ...events.slice(0, upTo));
      const resumed = resumeBoard(setup, acts);
      expect({ ...resumed.facts, inHand: null }).toEqual({ ...board.facts, inHand: null });
      expect(resumed.nextAct).toBe(board.nextAct);
    }
  });

  test('a tube drawn past its reading stays mounted, though the book now puts another first', () => {
    const { acts } = play(openBoard(setup), ACCEPT, ACCEPT);
    const turned = { ...setup, rack: [...setup.rack].reverse() };
    expect(openBoard(turned).facts.tube).toBe('C-08');
    expect(resumeBoard(turned, acts).facts.tube).toBe('C-07');
  });

  test('collect and give, and a shared filling, come back as they were', () => {
    const tip = { tube: 'tip 3', left: null, end: 'filled' as const, collectFrom: { catch: 'm', drones: 9 } };
    const begun = { ...setup, rack: [tip] };
    const one = { kind: 'filled', drones: 1, microlitres: 20 };
    for (const events of [
      [ACCEPT, ACCEPT, ACCEPT, ACCEPT],
      [one, ACCEPT, ACCEPT, ACCEPT, ACCEPT],
    ]) {
      const { board, acts } = play(openBoard(begun), ...events);
      const resumed = resumeBoard(begun, acts);
      expect(resumed.facts).toEqual(board.facts);
      const back = { kind: 'step-back' };
      expect(play(resumed, back).acts).toEqual(play(board, back).acts);
    }
  });

  test('what was recorded before the kill can still be stepped back', () => {
    const { acts } = play(openBoard(setup), ACCEPT, ACCEPT, ACCEPT, ACCEPT);
    const back = play(resumeBoard(setup, acts), { kind: 'step-back' });
    expect(back.acts).toMatchObject([{ kind: 'step-back', of: [2], n: 3 }]);
    expect(back.board.facts.queue.map((entry) => entry.status).slice(0, 2)).toEqual(['given', 'waiting']);
  });

  test('stepping back a dose puts her under the microscope again, with the draws and exceptions she had, as without the kill', () => {
    const small = { ...setup, rack: setup.rack.map((tube, i) => (i === 0 ? { ...tube, left: 3 } : tube)) };
    const leak = { kind: 'digit', digit: 1 };
    const { board, acts } = play(openBoard(small), ACCEPT, { kind: 'capillary' }, leak, ACCEPT);
    const again = [{ kind: 'step-back' }, ACCEPT];
    const resumed = play(resumeBoard(small, acts), ...again);
    expect(resumed.acts).toEqual(play(board, ...again).acts);
    expect(given(resumed.acts)).toMatchObject([{ queen: 'Q1', microlitres: 8, exceptions: ['leak'] }]);
    expect(resumed.board.facts.rack.map(({ left }) => left)).toEqual([0, 55]);
  });

  test('the board is plain data: stored and read again it goes on the same', () => {
    const { board } = play(openBoard(setup), ACCEPT, { kind: 'digit', digit: 1 });
    expect(play(JSON.parse(JSON.stringify(board)) as Board, ACCEPT).acts).toEqual(play(board, ACCEPT).acts);
  });
});

describe('what the board tells of the open tube', () => {
  const book = ledgerBook();
  book.collected('C-07', 'm', 10, 10);
  book.collected('C-07', 'n', 10, 10);
  const catches = new Map([catchOf('m', 'M'), catchOf('n', 'N')].map((one) => [one.id, one]));
  const story = readLedger({ tubes: [], lines: book.lines, catches });
  const rack = [{ tube: 'C-07', left: 20, end: 'filled' as const, collectFrom: null }];

  test('doses left and the mother whose drones the next dose holds', () => {
    const board = openBoard({ ...setup, rack });
    expect(tubeOutlook(board, { story, catches, drawnSince: 0 })).toMatchObject({
      doses: 2,
      waiting: 12,
      runsShort: false,
      mothers: [{ of: { queen: 'N' }, share: 1 }],
    });
    const after = play(board, ACCEPT, ACCEPT).board;
    const next = tubeOutlook(after, { story, catches, drawnSince: 8 });
    expect(next).toMatchObject({ left: 12, doses: 1, runsShort: true });
    expect(next?.mothers.map((part) => [part.of, Number(part.share.toFixed(9))])).toEqual([
      [{ kind: 'mother', queen: 'M' }, 0.75],
      [{ kind: 'mother', queen: 'N' }, 0.25],
    ]);
  });

  test('no tube, no outlook; a tube without ledger names nobody', () => {
    expect(tubeOutlook(openBoard({ ...setup, rack: [] }), { story, catches, drawnSince: 0 })).toBeNull();
    expect(
      tubeOutlook(openBoard(setup), { story: readLedger({ tubes: [], lines: [], catches }), catches, drawnSince: 0 })
        ?.mothers,
    ).toEqual([]);
  });
});

describe('doubts of a recorded dose', () => {
  const dose = { at: 1e9, microlitres: 8, receivedAt: 1e9, semenSince: 1e9 - 1, emergedAt: 1e9 - 8.64e8 };
  test('a fast clock, semen collected later, a queen not yet emerged, nothing given', () => {
    const codes = (told: Partial<typeof dose>) => doubtsOfDose({ ...dose, ...told }).map((problem) => problem.code);
    expect(codes({})).toEqual([]);
    expect(codes({ receivedAt: 1e9 - 120_000 })).toEqual([]);
    expect(codes({ receivedAt: 1e9 - 600_000 })).toEqual(['moment-in-future']);
    expect(codes({ semenSince: 1e9 + 1 })).toEqual(['dose-before-its-semen']);
    expect(codes({ emergedAt: 1e9 + 1 })).toEqual(['dose-before-she-emerged']);
    expect(codes({ microlitres: 0 })).toEqual(['dose-of-nothing']);
  });
});

test('put-away lists who was not seen going back in, who still waits, doubts, stops and the tubes to measure again', () => {
  const { board, acts } = play(
    openBoard({ ...setup, queue: setup.queue.slice(0, 3) }),
    presented(cage(1)),
    ACCEPT,
    presented(cage(1)),
    presented(cage(2)),
    presented({ kind: 'tube', id: 'C-01' }),
    { kind: 'it-has-happened' },
  );
  expect(putAway(board, acts)).toMatchObject({
    notBackIn: ['Q2'],
    waiting: ['Q3'],
    doubted: [{ queen: 'Q2', doubts: ['wrong-tube'] }],
    stops: [{ exit: 'it-has-happened', label: { id: 'C-01' } }],
    toRemeasure: ['C-07', 'C-01'],
  });
});

describe('the day in numbers', () => {
  test('doses, µl, exceptions and queens not done, without what was stepped back', () => {
    const leak = { kind: 'digit', digit: 1 };
    const { acts } = play(
      openBoard(setup),
      ACCEPT,
      leak,
      ACCEPT,
      ACCEPT,
      ACCEPT,
      leak,
      { kind: 'step-back' },
      { kind: 'not-done', reason: 'dead' },
    );
    expect(daySummary(acts)).toEqual({
      doses: 2,
      microlitres: 16,
      meanDose: 8,
      exceptions: { leak: 1 },
      notDone: { dead: 1 },
    });
    expect(daySummary([])).toMatchObject({ doses: 0, meanDose: null });
  });

  test('drones per mother, and whether a tube belongs to the cross', () => {
    const ledger = ledgerBook();
    ledger.collected('C', 'm', 12, 12);
    ledger.collected('C', 'n', 6, 6);
    const catches = new Map([catchOf('m', 'M'), catchOf('n', 'N')].map((one) => [one.id, one]));
    const full = readLedger({ tubes: [], lines: ledger.lines, catches });
    const tube = full.tubes.get('C');
    if (tube === undefined) throw new Error('no tube');
    expect(tubeFit(tube, [mother('M'), mother('N')])).toEqual({ fits: true, foreign: [], lacking: [] });
    expect(tubeFit(tube, [mother('M')])).toMatchObject({ fits: false, foreign: [mother('N')] });
    expect(tubeFit({ ...tube, layers: [] }, [mother('M')])).toMatchObject({ fits: false, lacking: [mother('M')] });
    const line = ledger.dose('C', 18);
    const story = readLedger({ tubes: [], lines: ledger.lines, catches });
    const drawn = drawnBy(story, line);
    const parts = dronesPerMother(drawn === null ? [] : [drawn], { story, catches });
    expect(parts.map((part) => [part.of, part.drones, Number(part.share.toFixed(9))])).toEqual([
      [mother('M'), 12, 0.666666667],
      [mother('N'), 6, 0.333333333],
    ]);
  });
});

describe('one pedal alone', () => {
  const rack = [
    { tube: 'C-07', left: 16, end: 'filled' as const, collectFrom: null },
    { tube: 'C-08', left: 60, end: 'filled' as const, collectFrom: null },
  ];

  test('a tube that is empty by the book is followed by the next one, with the queen, and it is said', () => {
    const { board, acts, signs } = play(openBoard({ ...setup, rack }), ...Array(6).fill(ACCEPT));
    expect(given(acts).flatMap((act) => act.draws.map(({ tube }) => tube))).toEqual(['C-07', 'C-07', 'C-08']);
    expect(acts.filter(({ kind }) => kind === 'capillary')).toMatchObject([{ tube: 'C-08', was: 'C-07' }]);
    expect(signs.filter((sign) => sign === 'next-tube')).toHaveLength(1);
    // One step back takes her out of the hand and the tube off again.
    const placed = play(openBoard({ ...setup, rack }), ...Array(5).fill(ACCEPT)).board;
    const back = play(placed, { kind: 'step-back' }).board;
    expect([placed.facts.tube, back.facts.tube, back.facts.inHand]).toEqual(['C-08', 'C-07', null]);
    expect(board.facts.rack.map(({ left }) => left)).toEqual([0, 52]);
  });

  test('the last tube stays open when there is no other: what is drawn from it is recorded with its doubt', () => {
    const one = { ...setup, rack: [{ tube: 'C-07', left: 8, end: 'filled' as const, collectFrom: null }] };
    const { acts } = play(openBoard(one), ...Array(4).fill(ACCEPT));
    expect(given(acts).map(({ doubts }) => doubts)).toEqual([[], ['tube-overdrawn']]);
  });
});
