import { z } from 'zod';
import type { QueenFace } from '#domain/marking/queen-face.ts';
import { dosesLeft, leftTogether } from '#domain/semen/next-dose.ts';
import { condemnedReads, gatherCondemned } from '#gather/condemned.ts';
import { type DroneSide, droneSideReads, gatherDroneSides } from '#gather/drone-sides.ts';
import { type GatheredLedger, gatherLedger, ledgerReads } from '#gather/ledger.ts';
import type { Facts } from '#ports/store.ts';
import { idShape } from '#records/field.ts';
import type { KindName, Row } from '#records/kinds.ts';
import { type Day, daysBetween } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { question } from '../mechanism/question.ts';
import { gatherVirgins, type Virgin, virginReads } from '../rearing/gather-virgins.ts';
import { gatherNames, mothersOfLayers, nameOfSource, nameReads, type SourceNames } from '../semen/source-names.ts';
import { faceReads, queenFaces } from '../stock/queen-faces.ts';
import { rackOf } from './board-rack.ts';

/** A queen in the queue as she is set out. */
export type QueuedQueen = {
  face: QueenFace;
  cage: string | null;
  home: { id: string; code: string } | null;
  /** Days after emergence on the bench day. */
  age: number | null;
  co2: number;
  status: 'waiting' | 'given' | 'not-done';
};

/** A tube for a cross: how much, how many doses, whose drones. */
export type SetOutTube = {
  id: string;
  code: string;
  left: number;
  doses: number;
  mothers: string;
  condemned: boolean;
  frozen: boolean;
};

/** Whether a dose may be drawn from it. */
export const isUsable = ({ condemned, frozen }: SetOutTube): boolean => !condemned && !frozen;

/** One cross of a bench day as it is set out. */
export type SetOutCross = {
  id: string;
  code: string;
  dose: number;
  wanted: number;
  purpose: string | null;
  droneSide: string;
  queue: readonly QueuedQueen[];
  /** Virgins raised for this cross, not in any queue yet, the best of age first. */
  virgins: readonly (Virgin & { ageThen: number | null })[];
  tubes: readonly SetOutTube[];
  /** µl in all its tubes that may be used. */
  have: number;
};

export type SetOut = {
  day: Row<'bench_day'>;
  operator: string | null;
  saline: { code: string; madeOn: Day | null; antibiotic: string | null } | null;
  /** The number after the highest tip ever used. */
  nextTip: number;
  ticked: readonly string[];
  crosses: readonly SetOutCross[];
  /** Crosses that could be set out besides. */
  others: readonly { id: string; code: string; day: Day | null }[];
};

const input = z.strictObject({ bench_day: idShape });

const reads = [
  ...new Set<KindName>([
    ...faceReads,
    ...ledgerReads,
    ...nameReads,
    ...virginReads,
    ...droneSideReads,
    ...condemnedReads,
    'bench_day',
    'bench_event',
    'person',
    'saline_batch',
  ]),
];

type Context = {
  day: Row<'bench_day'>;
  rows: readonly Row<'bench_queen'>[];
  ledger: GatheredLedger;
  sides: ReadonlyMap<string, DroneSide>;
  names: SourceNames;
  condemned: ReadonlySet<string>;
  virgins: readonly Virgin[];
  faces: ReadonlyMap<string, QueenFace>;
  emerged: ReadonlyMap<string, Day | null>;
  cages: ReadonlyMap<string, string>;
  colonies: ReadonlyMap<string, string>;
  co2: ReadonlyMap<string, number>;
  done: ReadonlyMap<string, Row<'insemination'>>;
};

async function context(day: Row<'bench_day'>, facts: Facts): Promise<Context> {
  const ledger = await gatherLedger(facts);
  const co2 = new Map<string, number>();
  for (const { queen } of await facts.find('co2_queen')) co2.set(queen, (co2.get(queen) ?? 0) + 1);
  const inseminations = await facts.find('insemination', { bench_day: day.id });
  return {
    day,
    rows: (await facts.find('bench_queen', { bench_day: day.id })).sort((a, b) => a.place - b.place),
    ledger,
    sides: await gatherDroneSides(facts),
    names: await gatherNames(facts),
    condemned: new Set((await gatherCondemned(facts, ledger)).tubes),
    virgins: (await gatherVirgins(facts, day.day)).filter(({ living }) => living !== 'gone'),
    faces: new Map((await queenFaces(facts, { today: day.day })).map((face) => [face.id, face])),
    emerged: new Map((await facts.find('queen')).map(({ id, emerged }) => [id as string, emerged])),
    cages: new Map((await facts.find('cage')).map(({ id, number }) => [id as string, number])),
    colonies: new Map((await facts.find('colony')).map(({ id, code }) => [id as string, code])),
    co2,
    done: new Map(inseminations.map((row) => [row.queen as string, row])),
  };
}

const ageOn = (emerged: Day | null | undefined, day: Day): number | null =>
  emerged == null ? null : daysBetween(emerged, day);

function queuedQueen(row: Row<'bench_queen'>, of: Context): QueuedQueen[] {
  const face = of.faces.get(row.queen);
  if (face === undefined) return [];
  const done = of.done.get(row.queen);
  const home = row.home === null ? null : { id: row.home, code: of.colonies.get(row.home) ?? '–' };
  return [
    {
      face,
      cage: row.cage === null ? null : (of.cages.get(row.cage) ?? null),
      home,
      age: ageOn(of.emerged.get(row.queen), of.day.day),
      co2: of.co2.get(row.queen) ?? 0,
      status: done === undefined ? 'waiting' : done.done === 1 ? 'given' : 'not-done',
    },
  ];
}

function tubesFor(cross: Row<'cross'>, of: Context): SetOutTube[] {
  const codes = new Map(of.ledger.tubes.map(({ id, code }) => [id as string, code]));
  // Tubes that may not be used are told too: whoever looks for one reads why it is not on the rack.
  return rackOf(of.sides.get(cross.id), { acts: [], barred: new Set() }, of.ledger).map((id) => {
    const story = of.ledger.story.tubes.get(id);
    const left = story?.left ?? 0;
    return {
      id,
      code: codes.get(id) ?? '–',
      left,
      doses: dosesLeft(left, cross.dose_ul),
      mothers: mothersOfLayers(story?.layers ?? [])
        .map((part) => nameOfSource(part.of, of.names.names))
        .join(', '),
      condemned: of.condemned.has(id),
      frozen: story?.frozen ?? false,
    };
  });
}

/** µl of all tubes of a cross that are neither condemned nor frozen; an overdrawn tube counts as empty. */
const haveOf = (tubes: readonly SetOutTube[], { ledger }: Context): number =>
  leftTogether(tubes.filter(isUsable).flatMap(({ id }) => ledger.story.tubes.get(id) ?? []));

function setOutCross(cross: Row<'cross'>, of: Context): SetOutCross {
  const queued = new Set<string>(of.rows.map(({ queen }) => queen));
  const mine = of.rows.filter((row) => row.cross === cross.id);
  const virgins = of.virgins
    .filter((virgin) => virgin.cross?.id === cross.id && !queued.has(virgin.face.id))
    .map((virgin) => ({ ...virgin, ageThen: ageOn(virgin.emerged, of.day.day) }));
  const side = of.sides.get(cross.id)?.asked ?? [];
  const tubes = tubesFor(cross, of);
  return {
    id: cross.id,
    code: cross.code,
    dose: cross.dose_ul,
    wanted: cross.queens_wanted,
    purpose: cross.purpose,
    droneSide: side.map((part) => nameOfSource(part.of, of.names.names)).join(', '),
    queue: mine.flatMap((row) => queuedQueen(row, of)),
    virgins: virgins.sort((a, b) => (b.ageThen ?? 0) - (a.ageThen ?? 0)),
    tubes,
    have: haveOf(tubes, of),
  };
}

async function salineOf(day: Row<'bench_day'>, facts: Facts): Promise<SetOut['saline']> {
  const batch = await facts.get('saline_batch', day.saline);
  return batch === null ? null : { code: batch.code, madeOn: batch.made_on, antibiotic: batch.antibiotic };
}

async function nextTip(facts: Facts): Promise<number> {
  const used = (await facts.find('insemination')).map(({ tip }) => Number(tip ?? Number.NaN));
  return Math.max(0, ...used.filter(Number.isInteger)) + 1;
}

async function gather(id: RecordId, facts: Facts): Promise<SetOut | null> {
  const day = await facts.get('bench_day', id);
  if (day === null) return null;
  const of = await context(day, facts);
  const crosses = (await facts.find('cross')).filter(({ cancelled }) => cancelled !== 1);
  const onDay = new Set<string>(of.rows.map(({ cross }) => cross));
  const set = crosses.filter((cross) => onDay.has(cross.id) || cross.inseminate_on === day.day);
  const here = new Set(set.map((cross) => cross.id));
  const events = await facts.find('bench_event', { bench_day: id, what: 'set-out' });
  return {
    day,
    operator: (await facts.get('person', day.operator))?.name ?? null,
    saline: await salineOf(day, facts),
    nextTip: await nextTip(facts),
    ticked: events.flatMap(({ words }) => (words === null ? [] : [words])),
    crosses: set.map((cross) => setOutCross(cross, of)),
    others: crosses
      .filter((cross) => !here.has(cross.id))
      .map((cross) => ({ id: cross.id, code: cross.code, day: cross.inseminate_on })),
  };
}

/** Everything set out for a bench day: its crosses with their queues, virgins still to be queued, and tubes. */
export const setOut = question({
  name: 'set-out',
  what: 'What is set out for a bench day: crosses, queues, virgins to be queued, tubes, what was ticked.',
  input,
  reads,
  gather: ({ bench_day }, facts) => gather(bench_day, facts),
  answer: (day) => ({ day }),
});
