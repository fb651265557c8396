import { z } from 'zod';
import { type Belonging, belongingOf } from '#domain/scoring/belonging.ts';
import { type ReadingValue, valueOfReading } from '#domain/scoring/reading-value.ts';
import { type GatheredReading, gatherReigns, gatherScores, scoreReads } from '#gather/scores.ts';
import type { Facts } from '#ports/store.ts';
import { dayShape, idShape } from '#records/field.ts';
import type { KindName, Row } from '#records/kinds.ts';
import { type Day, yearOf } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { question } from '../mechanism/question.ts';
import { gatherYardBook, type Nuc, type YardBook, yardReads } from './yard-book.ts';

const input = z.strictObject({ today: dayShape, yard: idShape.optional() });
type Input = z.infer<typeof input>;

/** A trait as it was read last on a colony. */
export type LastScore = { trait: string; value: number; unit: string | null; day: Day; person: string | null };

/** A reading of the day asked about, with whose it is. */
export type TodaysReading = {
  id: RecordId;
  trait: string;
  method: string | null;
  value: number | null;
  range: ReadingValue['range'];
  notJudged: string | null;
  hers: Belonging['hers'];
  why: Belonging['why'];
  judged: Belonging['hers'] | null;
};

/** A brood test begun and not read yet. */
export type OpenTest = {
  id: RecordId;
  trait: string;
  method: string | null;
  begun: Day;
  among: number;
  emptyBefore: number;
};

export type ScoredNuc = Nuc & {
  last: LastScore[];
  today: TodaysReading[];
  open: OpenTest[];
  /** Whose a reading of today would be, by the rule of turnover. */
  belongs: Belonging;
  /** Means of this year's readings, by trait, with how many there were. */
  year: { trait: string; mean: number; n: number }[];
};

export type TodaysVisit = Pick<Row<'visit'>, 'id' | 'yard' | 'person' | 'weather' | 'flow' | 'temperature_c'>;

export type ScoreCards = {
  nucs: ScoredNuc[];
  people: { id: string; name: string }[];
  visits: TodaysVisit[];
};

type Read = GatheredReading & { value: number };
const isRead = (reading: GatheredReading): reading is Read => reading.value !== null;

function yearMeans(readings: readonly Read[], today: Day): ScoredNuc['year'] {
  const ofYear = readings.filter(({ day }) => yearOf(day) === yearOf(today) && day <= today);
  return [...groupBy(ofYear, ({ trait }) => trait)].map(([trait, read]) => ({
    trait,
    mean: read.reduce((sum, { value }) => sum + value, 0) / read.length,
    n: read.length,
  }));
}

const todaysOf = ({ row, hers, why }: GatheredReading): TodaysReading => ({
  id: row.id,
  trait: row.trait,
  method: row.method,
  value: row.value,
  range: row.value === null ? null : (valueOfReading(row)?.range ?? null),
  notJudged: row.not_judged,
  hers,
  why,
  judged: row.judged_hers,
});

const isOpen = ({ row }: GatheredReading) => row.value === null && row.not_judged === null && row.among !== null;

const openOf = ({ row }: GatheredReading): OpenTest => ({
  id: row.id,
  trait: row.trait,
  method: row.method,
  begun: row.day,
  among: row.among ?? 0,
  emptyBefore: row.empty_before ?? 0,
});

type Around = { today: Day; people: ReadonlyMap<string, string> };

function scoredOf(nuc: Nuc, all: readonly GatheredReading[], belongs: Belonging, { today, people }: Around): ScoredNuc {
  const read = all.filter(isRead).sort((a, b) => (a.day < b.day ? -1 : 1));
  const last = new Map(read.filter(({ day }) => day < today).map((each) => [each.trait, each]));
  return {
    ...nuc,
    last: [...last.values()].map(({ trait, value, day, row }) => ({
      trait,
      value,
      unit: row.unit,
      day,
      person: row.person === null ? null : (people.get(row.person) ?? null),
    })),
    today: all.filter((each) => each.day === today && !isOpen(each)).map(todaysOf),
    open: all.filter(isOpen).map(openOf),
    belongs,
    year: yearMeans(read, today),
  };
}

async function gatherNucs(book: YardBook, { today, yard }: Input, facts: Facts, people: Around['people']) {
  const reigns = await gatherReigns(facts, book.living);
  const readings = groupBy(await gatherScores(facts, book.living), ({ row }) => row.colony);
  const plain = { from: null, day: today, queen: null, judged: null };
  return book.nucs
    .filter((nuc) => yard === undefined || nuc.yard?.id === yard)
    .map((nuc) =>
      scoredOf(nuc, readings.get(nuc.id) ?? [], belongingOf(plain, reigns.get(nuc.id) ?? []), { today, people }),
    );
}

/** Colonies to score in walking order, with what was read last (shown only after entry), whose a reading is, and this year's means. */
export const scoreCards = question({
  name: 'score-cards',
  what: 'Colonies to score in walking order: what was read last and today, tests to count, whose it is, means of the year.',
  input,
  reads: [...yardReads, ...scoreReads, 'person'] as readonly KindName[],
  async gather(asked, facts): Promise<ScoreCards> {
    const book = await gatherYardBook(facts, asked.today);
    const people = new Map((await facts.find('person')).map(({ id, name }) => [id as string, name]));
    const visits = await facts.find('visit', { day: asked.today });
    return {
      nucs: await gatherNucs(book, asked, facts, people),
      people: [...people].map(([id, name]) => ({ id, name })),
      visits: visits.map(({ id, yard, person, weather, flow, temperature_c }) => ({
        id,
        yard,
        person,
        weather,
        flow,
        temperature_c,
      })),
    };
  },
  answer: (told) => told,
});
