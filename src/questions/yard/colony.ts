import { z } from 'zod';
import type { LayingCheck } from '#domain/living/check.ts';
import type { DaySpan } from '#domain/living/day-span.ts';
import type { QueenFace } from '#domain/marking/queen-face.ts';
import { type GatheredReading, gatherScores, scoreReads } from '#gather/scores.ts';
import type { Facts } from '#ports/store.ts';
import { dayShape, idShape } from '#records/field.ts';
import type { KindName, Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { type Question, question } from '../mechanism/question.ts';
import { gatherYardBook, type Nuc, type YardBook, yardReads } from './yard-book.ts';

const input = z.strictObject({ colony: idShape, today: dayShape });

/** A queen's time at the head of a colony (or in it), with the spans it began and ended in. */
export type ReignLine = { queen: QueenFace | null; role: string; from: DaySpan | null; to: DaySpan | null };

export type LookLine = LayingCheck & { id: RecordId; queen: QueenFace | null; words: string[] };

export type ScoreLine = {
  id: RecordId;
  day: Day;
  from: Day | null;
  trait: string;
  /** `null` for a trait not judged, and for a test not read yet. */
  value: number | null;
  unit: string | null;
  person: string | null;
  /** The queen whose result it wholly is, else `null`. */
  hers: QueenFace | null;
};

export type ColonyLeaf = {
  nuc: Nuc;
  ended: { on: Day; how: string | null; into: { id: RecordId; code: string } | null } | null;
  /** Colonies that were united into it. */
  unitedFrom: { id: RecordId; code: string; on: Day | null }[];
  places: { yard: string; from: Day | null; to: Day | null; spot: number | null }[];
  reigns: ReignLine[];
  looks: LookLine[];
  scores: ScoreLine[];
  introductions: { id: RecordId; queen: QueenFace | null; day: Day; method: string | null; accepted: boolean | null }[];
};

const endedOf = (row: Row<'colony'>, colonies: readonly Row<'colony'>[]): ColonyLeaf['ended'] => {
  if (row.ended === null) return null;
  const into = colonies.find(({ id }) => id === row.united_into);
  return { on: row.ended, how: row.ended_how, into: into === undefined ? null : { id: into.id, code: into.code } };
};

async function looksOf(colony: RecordId, { faces }: YardBook, facts: Facts): Promise<LookLine[]> {
  const rows = await facts.find('laying_check', { colony });
  const sights = groupBy(await facts.find('laying_sight'), (row) => row.laying_check);
  const notes = groupBy(await facts.find('note', { about_kind: 'laying_check' }), ({ about }) => about);
  return rows
    .map((row) => ({
      id: row.id,
      day: row.day,
      sights: (sights.get(row.id) ?? []).map(({ saw }) => saw),
      queenSeen: row.queen_seen,
      queen: row.queen === null ? null : (faces.get(row.queen) ?? null),
      words: (notes.get(row.id) ?? []).map(({ words }) => words),
    }))
    .sort((a, b) => (a.day > b.day ? -1 : 1));
}

async function scoresOf(colony: RecordId, { living, faces }: YardBook, facts: Facts): Promise<ScoreLine[]> {
  const people = new Map((await facts.find('person')).map(({ id, name }) => [id, name]));
  const readings = (await gatherScores(facts, living)).filter(({ row }) => row.colony === colony);
  const line = ({ row, queen, isHers }: GatheredReading): ScoreLine => ({
    id: row.id,
    day: row.day,
    from: row.span_from,
    trait: row.trait,
    value: row.value,
    unit: row.unit,
    person: row.person === null ? null : (people.get(row.person) ?? null),
    hers: isHers && queen !== null ? (faces.get(queen) ?? null) : null,
  });
  return readings.map(line).sort((a, b) => (a.day > b.day ? -1 : 1));
}

async function gatherColony({ colony, today }: z.infer<typeof input>, facts: Facts): Promise<ColonyLeaf | null> {
  const row = await facts.get('colony', colony);
  if (row === null) return null;
  const book = await gatherYardBook(facts, today);
  const colonies = await facts.find('colony');
  const yards = new Map(book.yards.map(({ id, name }) => [id, name]));
  const face = (queen: string) => book.faces.get(queen) ?? null;
  return {
    nuc: book.nucOf(row),
    ended: endedOf(row, colonies),
    unitedFrom: colonies
      .filter(({ united_into }) => united_into === colony)
      .map(({ id, code, ended }) => ({ id, code, on: ended })),
    places: (await facts.find('colony_place', { colony })).map(({ yard, stood_from, stood_to, spot }) => ({
      yard: yards.get(yard) ?? '',
      from: stood_from,
      to: stood_to,
      spot,
    })),
    reigns: book.living.stays
      .filter((stay) => stay.colony === colony)
      .map(({ queen, role, from, to }) => ({ queen: face(queen), role, from, to }))
      .sort((a, b) => ((a.from?.earliest ?? '') > (b.from?.earliest ?? '') ? -1 : 1)),
    looks: await looksOf(colony, book, facts),
    scores: await scoresOf(colony, book, facts),
    introductions: (await facts.find('introduction', { colony })).map(({ id, queen, day, method, accepted }) => ({
      id,
      queen: face(queen),
      day,
      method,
      accepted: accepted === null ? null : accepted === 1,
    })),
  };
}

/** A colony's leaf: who heads it and since when, what was seen in it, its story, and what is next. */
export const colony: Question<z.infer<typeof input>, ColonyLeaf | null, { leaf: ColonyLeaf | null }> = question({
  name: 'colony',
  what: 'A colony: who heads it and since when, where it stood, what was seen in it, and what is next.',
  input,
  reads: [...yardReads, ...scoreReads, 'note', 'person'] as readonly KindName[],
  gather: gatherColony,
  answer: (leaf) => ({ leaf }),
});
