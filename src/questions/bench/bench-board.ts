import { z } from 'zod';
import type { BoardSetup } from '#domain/insemination/bench-board.ts';
import type { QueenFace } from '#domain/marking/queen-face.ts';
import { condemnedReads, gatherCondemned } from '#gather/condemned.ts';
import { droneSideReads, gatherDroneSides } from '#gather/drone-sides.ts';
import { gatherLedger, ledgerReads } from '#gather/ledger.ts';
import type { Facts, Journal } from '#ports/store.ts';
import { idShape } from '#records/field.ts';
import type { KindName, Row } from '#records/kinds.ts';
import type { RecordId } from '#units/record-id.ts';
import { question } from '../mechanism/question.ts';
import { gatherNames, nameReads } from '../semen/source-names.ts';
import { faceReads, queenFaces } from '../stock/queen-faces.ts';
import { type ActSaid, actsOfBoard, boardActs } from './acts-of-board.ts';
import { elsewhereOf, type KnownLabel, labelsOf } from './board-labels.ts';
import { barredTubes, ledgerOf, type RackLedger, rackBefore, rackOf } from './board-rack.ts';

/** Everything a board needs, as plain data, so that it can go on by itself when it is cut off. */
export type BoardAnswer = {
  day: Row<'bench_day'>;
  cross: { id: string; code: string };
  /** Crosses with a queue on this day, this one among them. */
  crosses: readonly { id: string; code: string; queens: number }[];
  operator: string | null;
  /** The board as it was before the acts below. */
  setup: BoardSetup;
  /** The nuc each queen goes home to. */
  homes: Readonly<Record<string, { id: string; code: string }>>;
  faces: readonly QueenFace[];
  labels: readonly KnownLabel[];
  /** What tubes, drone mothers, groups and lines are called, by id. */
  names: Readonly<Record<string, string>>;
  lines: Readonly<Record<string, string>>;
  ledger: RackLedger;
  condemned: readonly string[];
  frozen: readonly string[];
  /** How often each queen of the queue had carbon dioxide. */
  co2: Readonly<Record<string, number>>;
  /** Acts of the book since the day was opened that a board can be made of, without those stepped back. */
  acts: readonly ActSaid[];
};

const input = z.strictObject({ bench_day: idShape, cross: idShape });

const reads = [
  ...new Set<KindName>([
    ...ledgerReads,
    ...faceReads,
    ...nameReads,
    ...droneSideReads,
    ...condemnedReads,
    'bench_day',
    'bench_queen',
    'bench_event',
    'cross',
    'person',
    'insemination_exception',
    'co2_treatment',
    'co2_queen',
  ]),
];

async function actsSince(day: RecordId, journal: Journal): Promise<ActSaid[]> {
  const [opened] = await journal.acts({ records: [day] });
  const names = new Set<string>(boardActs);
  return (await journal.acts({ after: (opened?.seq ?? 1) - 1 }))
    .filter(({ name, steppedBackBy }) => steppedBackBy === null && name !== 'step-back' && names.has(name))
    .map(({ id, name, input: said, done }) => ({ id, name, input: said, done }));
}

async function queuesOf(day: RecordId, facts: Facts) {
  const rows = (await facts.find('bench_queen', { bench_day: day })).sort((a, b) => a.place - b.place);
  const crosses = await facts.find('cross', { id: [...new Set(rows.map(({ cross }) => cross))] });
  return { rows, codes: new Map(crosses.map(({ id, code }) => [id as string, code])) };
}

async function co2Of(queens: readonly RecordId[], facts: Facts): Promise<Record<string, number>> {
  const counts: Record<string, number> = {};
  for (const { queen } of await facts.find('co2_queen', { queen: queens })) counts[queen] = (counts[queen] ?? 0) + 1;
  return counts;
}

async function homesOf(rows: readonly Row<'bench_queen'>[], facts: Facts): Promise<BoardAnswer['homes']> {
  const colonies = new Map((await facts.find('colony')).map(({ id, code }) => [id, code]));
  return Object.fromEntries(
    rows.flatMap(({ queen, home }) => (home === null ? [] : [[queen, { id: home, code: colonies.get(home) ?? '' }]])),
  );
}

type Input = z.infer<typeof input>;

async function gather({ bench_day, cross }: Input, facts: Facts & Journal): Promise<BoardAnswer | null> {
  const day = await facts.get('bench_day', bench_day);
  const of = await facts.get('cross', cross);
  if (day === null || of === null) return null;
  const queues = await queuesOf(bench_day, facts);
  const mine = queues.rows.filter((row) => row.cross === cross);
  const acts = await actsSince(bench_day, facts);
  const board = actsOfBoard(acts, { bench_day, cross, zone: day.zone });
  const ledger = await gatherLedger(facts);
  const sides = await gatherDroneSides(facts);
  const names = await gatherNames(facts);
  const condemned = (await gatherCondemned(facts, ledger)).tubes;
  const on = { acts: board.acts, barred: barredTubes(ledger, condemned) };
  const rack = rackOf(sides.get(cross), on, ledger);
  const queued = new Set<string>(mine.map(({ queen }) => queen));
  const tubeNames = Object.fromEntries(ledger.tubes.map(({ id, code }) => [id, code]));
  return {
    day,
    cross: { id: of.id, code: of.code },
    crosses: [...queues.codes].map(([id, code]) => ({
      id,
      code,
      queens: queues.rows.filter((row) => row.cross === id).length,
    })),
    operator: (await facts.get('person', day.operator))?.name ?? null,
    setup: {
      cross: of.code,
      usualDose: of.dose_ul,
      queue: mine.map(({ queen, cage }) => ({ queen, cage })),
      rack: rackBefore(rack, on, ledger),
      elsewhere: await elsewhereOf(cross, queues, { rack, ledger, sides }, facts),
      tip: day.first_tip ?? 1,
    },
    homes: await homesOf(mine, facts),
    faces: (await queenFaces(facts, { today: day.day })).filter(({ id }) => queued.has(id)),
    labels: await labelsOf(ledger, names, facts),
    names: { ...names.names, ...tubeNames },
    lines: names.lines,
    ledger: ledgerOf(rack, ledger),
    condemned,
    frozen: ledger.tubes.flatMap(({ id }) => (ledger.story.tubes.get(id)?.frozen === true ? [id] : [])),
    co2: await co2Of(
      mine.map(({ queen }) => queen),
      facts,
    ),
    acts,
  };
}

/** The board of one cross on one bench day: its queue, its rack, what was done so far, and what a STOP needs to name. */
export const benchBoard = question({
  name: 'bench-board',
  what: 'The bench board of one cross on one bench day: queue, rack, what was done so far.',
  input,
  reads,
  gather,
  answer: (board) => ({ board }),
});
