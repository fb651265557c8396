import { z } from 'zod';
import type { QueenFace } from '#domain/marking/queen-face.ts';
import { type LeftOutReason, type OwnedReading, traitsIn } from '#domain/scoring/season-records.ts';
import { ruleOf } from '#domain/scoring/trait.ts';
import { levelOf } from '#domain/worth/choices.ts';
import { connectedness } from '#domain/worth/connectedness.ts';
import type { GatheredReading } from '#gather/scores.ts';
import { type GatheredWorth, gatherWorth, recordName, worthReads } from '#gather/worth.ts';
import { dayShape, idShape } from '#records/field.ts';
import type { KindName } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { type Question, question } from '../mechanism/question.ts';
import { facedQueens, faceReads } from '../stock/queen-faces.ts';

const input = z.strictObject({
  today: dayShape,
  /** The month a test year begins in, 1-12. */
  month: z.int().min(1).max(12).optional(),
  /** Only the records of this queen, with every reading. */
  queen: idShape.optional(),
});
type Input = z.infer<typeof input>;

/** A reading a season's value rests on, or one that is left out. */
export type ReadingLine = {
  id: RecordId;
  trait: string;
  value: number | null;
  method: string | null;
  from: Day | null;
  day: Day;
  colony: { id: RecordId; code: string } | null;
  person: string | null;
};

export type SeasonLine = {
  id: string;
  queen: QueenFace | null;
  code: string;
  year: number;
  yard: { id: string; name: string };
  /** Fewer readings than `enough` make a shaky value (B13 § 3.1.4). */
  traits: { trait: string; value: number; readings: number; enough: number; behind: ReadingLine[] }[];
};

export type SeasonRecords = {
  records: SeasonLine[];
  traits: string[];
  leftOut: { why: LeftOutReason; readings: (ReadingLine & { code: string | null })[] }[];
  /** Yard-years with one colony, and those that hang together by dams or drone mothers, the largest first. */
  alone: string[];
  sets: string[][];
};

type Told = { gathered: GatheredWorth; records: SeasonLine[]; leftOut: SeasonRecords['leftOut'] };

function lineOf(
  reading: OwnedReading,
  names: { colony: ReadonlyMap<string, string>; person: ReadonlyMap<string, string> },
): ReadingLine {
  const { row } = reading as GatheredReading;
  return {
    id: row.id,
    trait: row.trait,
    value: row.value,
    method: row.method,
    from: row.span_from,
    day: row.day,
    colony: row.colony === null ? null : { id: row.colony, code: names.colony.get(row.colony) ?? '' },
    person: row.person === null ? null : (names.person.get(row.person) ?? null),
  };
}

function joinedOf({ gathered }: Told): Pick<SeasonRecords, 'alone' | 'sets'> {
  const { pedigree } = gathered.lay();
  if (pedigree === null) return { alone: [], sets: [] };
  const rows = gathered.records.filter(({ queen }) => pedigree.stock.names.queenIndex(queen) >= 0);
  const levels = rows.map(({ yard, year }) => levelOf({ yard: { id: yard, name: gathered.yardName(yard) }, year }));
  const names = [...new Set(levels)];
  const { alone, sets } = connectedness(pedigree, {
    count: rows.length,
    queen: Int32Array.from(rows, ({ queen }) => pedigree.stock.names.queenIndex(queen)),
    values: new Float64Array(rows.length),
    factors: [{ level: Int32Array.from(levels, (name) => names.indexOf(name)), names }],
  });
  return { alone, sets };
}

/** Season records: what every queen's year in a yard came to, the readings behind it, what is left out and why, and which yard-years hang together. */
export const seasonRecordsOf: Question<Input, Told, SeasonRecords> = question({
  name: 'season-records',
  what: 'What a season of readings came to for every queen and yard-year, what it rests on, and what is left out and why.',
  input,
  reads: [...worthReads, ...faceReads, 'person', 'colony'] as readonly KindName[],
  async gather({ today, month, queen }, facts): Promise<Told> {
    const { faced, living } = await facedQueens(facts, today);
    const gathered = await gatherWorth(facts, { month, living });
    const faces = new Map(faced.map(({ face }) => [face.id, face]));
    const names = {
      colony: new Map((await facts.find('colony')).map(({ id, code }) => [id as string, code])),
      person: new Map((await facts.find('person')).map(({ id, name }) => [id as string, name])),
    };
    const records = gathered.records
      .filter((record) => queen === undefined || record.queen === queen)
      .map(
        (record): SeasonLine => ({
          id: recordName(record),
          queen: faces.get(record.queen) ?? null,
          code: gathered.nameOf(record.queen),
          year: record.year,
          yard: { id: record.yard, name: gathered.yardName(record.yard) },
          traits: [...record.traits].map(([trait, { value, readings }]) => ({
            trait,
            value,
            readings: readings.length,
            enough: readings.some(({ method }) => method === 'season') ? 1 : ruleOf(trait).enough,
            behind: queen === undefined ? [] : readings.map((reading) => lineOf(reading, names)),
          })),
        }),
      );
    const byWhy = new Map<LeftOutReason, (ReadingLine & { code: string | null })[]>();
    for (const { reading, why } of gathered.leftOut) {
      if (queen !== undefined && reading.queen !== queen) continue;
      const code = reading.queen === null ? null : gathered.nameOf(reading.queen);
      byWhy.set(why, [...(byWhy.get(why) ?? []), { ...lineOf(reading, names), code }]);
    }
    return { gathered, records, leftOut: [...byWhy].map(([why, readings]) => ({ why, readings })) };
  },
  answer: (told) => ({
    records: told.records,
    traits: traitsIn(told.gathered.records),
    leftOut: told.leftOut,
    ...joinedOf(told),
  }),
});
