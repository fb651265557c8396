import { z } from 'zod';
import { dronesPerMother } from '#domain/insemination/day-summary.ts';
import type { ExceptionKind, NotDoneReason } from '#domain/insemination/exception.ts';
import type { QueenFace } from '#domain/marking/queen-face.ts';
import { drawnBy } from '#domain/semen/ledger.ts';
import { condemnedReads } from '#gather/condemned.ts';
import { type GatheredLedger, gatherLedger, ledgerReads } from '#gather/ledger.ts';
import type { Facts, Journal } from '#ports/store.ts';
import { idShape } from '#records/field.ts';
import type { KindName, Row } from '#records/kinds.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { question } from '../mechanism/question.ts';
import { gatherNames, type NamedPart, namedParts, nameReads } from '../semen/source-names.ts';
import { faceReads, queenFaces } from '../stock/queen-faces.ts';
import { type TwoReadings, twoReadings } from './two-readings.ts';

/** What became of one queen of the day. */
export type DoneQueen = {
  insemination: string | null;
  face: QueenFace;
  cage: string | null;
  home: { id: string; code: string } | null;
  done: boolean | null;
  why: NotDoneReason | null;
  moment: string | null;
  given: number | null;
  tip: string | null;
  draws: readonly { tube: string; microlitres: number }[];
  exceptions: readonly { kind: ExceptionKind; words: string | null }[];
  closed: boolean;
};

/** One cross of the day in numbers. */
export type DoneCross = {
  id: string;
  code: string;
  queens: readonly DoneQueen[];
  doses: number;
  microlitres: number;
  exceptions: Readonly<Record<string, number>>;
  notDone: Readonly<Record<string, number>>;
  mothers: readonly NamedPart[];
};

export type BenchSummary = {
  day: Row<'bench_day'>;
  operator: string | null;
  crosses: readonly DoneCross[];
  stops: readonly { id: string; passed: boolean; label: string; reason: string | null; moment: string }[];
  /** Tubes drawn from today, with what the ledger says is left. */
  tubes: readonly { id: string; code: string; left: number; remeasured: boolean }[];
  tips: readonly string[];
  /** Doubts about this day that stand open. */
  worries: readonly { id: string; code: string; said: string }[];
  /** Queens with more than one dose of this day, to choose from. */
  twice: readonly TwoReadings[];
};

const input = z.strictObject({ bench_day: idShape });

const reads = [
  ...new Set<KindName>([
    ...faceReads,
    ...ledgerReads,
    ...nameReads,
    ...condemnedReads,
    'bench_day',
    'bench_event',
    'bench_queen',
    'cross',
    'person',
    'insemination_exception',
    'worry',
  ]),
];

type Context = {
  day: Row<'bench_day'>;
  ledger: GatheredLedger;
  faces: ReadonlyMap<string, QueenFace>;
  inseminations: readonly Row<'insemination'>[];
  exceptions: ReadonlyMap<string, Row<'insemination_exception'>[]>;
  lines: ReadonlyMap<string, Row<'ledger_line'>[]>;
  queue: ReadonlyMap<string, Row<'bench_queen'>>;
  cages: ReadonlyMap<string, string>;
  colonies: ReadonlyMap<string, string>;
  tubes: ReadonlyMap<string, string>;
};

async function context(day: Row<'bench_day'>, facts: Facts): Promise<Context> {
  const ledger = await gatherLedger(facts);
  const queue = await facts.find('bench_queen', { bench_day: day.id });
  return {
    day,
    ledger,
    faces: new Map((await queenFaces(facts, { today: day.day })).map((face) => [face.id, face])),
    inseminations: await facts.find('insemination', { bench_day: day.id }),
    exceptions: groupBy(await facts.find('insemination_exception'), (row) => row.insemination as string),
    lines: groupBy(
      ledger.lines.filter(({ insemination }) => insemination !== null),
      (row) => row.insemination as string,
    ),
    queue: new Map(queue.sort((a, b) => a.place - b.place).map((row) => [row.queen as string, row])),
    cages: new Map((await facts.find('cage')).map(({ id, number }) => [id as string, number])),
    colonies: new Map((await facts.find('colony')).map(({ id, code }) => [id as string, code])),
    tubes: new Map(ledger.tubes.map(({ id, code }) => [id as string, code])),
  };
}

function drawsOf(insemination: string, { lines, ledger, tubes }: Context): DoneQueen['draws'] {
  return (lines.get(insemination) ?? []).flatMap(({ id, tube }) => {
    const drawn = drawnBy(ledger.story, id);
    return drawn === null ? [] : [{ tube: tubes.get(tube) ?? '–', microlitres: drawn.microlitres }];
  });
}

function doneQueen(queen: string, row: Row<'insemination'> | undefined, of: Context): DoneQueen[] {
  const face = of.faces.get(queen);
  if (face === undefined) return [];
  const queued = of.queue.get(queen);
  const home = queued?.home ?? null;
  return [
    {
      insemination: row?.id ?? null,
      face,
      cage: queued?.cage == null ? null : (of.cages.get(queued.cage) ?? null),
      home: home === null ? null : { id: home, code: of.colonies.get(home) ?? '–' },
      done: row === undefined ? null : row.done === 1,
      why: row?.not_done_why ?? null,
      moment: row?.moment ?? null,
      given: row?.given_ul ?? null,
      tip: row?.tip ?? null,
      draws: row === undefined ? [] : drawsOf(row.id, of),
      exceptions: (row === undefined ? [] : (of.exceptions.get(row.id) ?? [])).map(({ kind, words }) => ({
        kind,
        words,
      })),
      closed: row !== undefined && row.closed !== null,
    },
  ];
}

function counted(all: readonly string[]): Record<string, number> {
  const counts: Record<string, number> = {};
  for (const one of all) counts[one] = (counts[one] ?? 0) + 1;
  return counts;
}

function doneCross({ id, code }: Row<'cross'>, of: Context, names: Awaited<ReturnType<typeof gatherNames>>): DoneCross {
  const mine = of.inseminations.filter((row) => row.cross === id);
  const queued = [...of.queue.values()].filter((row) => row.cross === id).map(({ queen }) => queen as string);
  const all = [...new Set([...queued, ...mine.map(({ queen }) => queen as string)])];
  const latest = new Map(mine.map((row) => [row.queen as string, row]));
  const queens = all.flatMap((queen) => doneQueen(queen, latest.get(queen), of));
  const given = mine.filter((row) => row.done === 1);
  const draws = given.flatMap((row) =>
    (of.lines.get(row.id) ?? []).flatMap((line) => drawnBy(of.ledger.story, line.id) ?? []),
  );
  const { story, catches } = of.ledger;
  return {
    id,
    code,
    queens,
    doses: given.length,
    microlitres: given.reduce((sum, row) => sum + (row.given_ul ?? 0), 0),
    exceptions: counted(queens.flatMap(({ exceptions }) => exceptions.map(({ kind }) => kind))),
    notDone: counted(mine.flatMap((row) => row.not_done_why ?? [])),
    mothers: namedParts(dronesPerMother(draws, { story, catches }), names),
  };
}

function tubesOf({ ledger, inseminations, lines, tubes, day }: Context): BenchSummary['tubes'] {
  const drawn = new Set(inseminations.flatMap((row) => (lines.get(row.id) ?? []).map(({ tube }) => tube as string)));
  return [...drawn].map((id) => {
    const later = ledger.lines.filter((line) => line.tube === id);
    const last = later.findLast(({ step }) => step === 'dose' || step === 're-measured');
    return {
      id,
      code: tubes.get(id) ?? '–',
      left: ledger.story.tubes.get(id)?.left ?? 0,
      remeasured: last?.step === 're-measured' && day.opened !== null && last.moment >= day.opened,
    };
  });
}

async function worriesOf(of: Context, facts: Facts): Promise<BenchSummary['worries']> {
  const tubes = tubesOf(of).map(({ id }) => id);
  const done = of.inseminations.flatMap(({ id, queen }) => [id, queen]);
  const about = new Set<string>([...done, ...of.queue.keys(), ...tubes]);
  const open = await facts.find('worry', { settled_on: null });
  return open
    .filter((worry) => worry.about !== null && about.has(worry.about))
    .map(({ id, code, said }) => ({ id, code, said }));
}

async function gather(id: RecordId, facts: Facts & Journal): Promise<BenchSummary | null> {
  const day = await facts.get('bench_day', id);
  if (day === null) return null;
  const of = await context(day, facts);
  const names = await gatherNames(facts);
  const crossIds = [...of.inseminations.map(({ cross }) => cross), ...[...of.queue.values()].map(({ cross }) => cross)];
  const crosses = await facts.find('cross', { id: [...new Set(crossIds.filter((cross) => cross !== null))] });
  const tubesDrawn = (row: string) => drawsOf(row, of).map(({ tube }) => tube);
  const twice = await twoReadings({ faces: of.faces, inseminations: of.inseminations, tubesOf: tubesDrawn }, facts);
  const stops = await facts.find('bench_event', { bench_day: id, what: ['stop-passed', 'stop-taken-away'] });
  return {
    day,
    operator: (await facts.get('person', day.operator))?.name ?? null,
    crosses: crosses.map((cross) => doneCross(cross, of, names)),
    stops: stops.map(({ id: event, what, words, reason, moment }) => ({
      id: event,
      passed: what === 'stop-passed',
      label: words ?? '–',
      reason,
      moment,
    })),
    tubes: tubesOf(of),
    tips: [...new Set(of.inseminations.flatMap(({ tip }) => tip ?? []))],
    worries: (await worriesOf(of, facts)).filter(({ id: worry }) => !twice.some((each) => each.worry === worry)),
    twice,
  };
}

/** A bench day summed up: doses, exceptions, drones per mother, and everything still to be settled. */
export const benchSummary = question({
  name: 'bench-summary',
  what: 'A bench day summed up: doses, exceptions, drones per mother, and what is still to be settled.',
  input,
  reads,
  gather: ({ bench_day }, facts) => gather(bench_day, facts),
  answer: (summary) => ({ summary }),
});
