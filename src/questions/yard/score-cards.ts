import { z } from 'zod';
import { dayShape, idShape } from '#records/field.ts';
import type { KindName, Row } from '#records/kinds.ts';
import { type Day, yearOf } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import { question } from '../mechanism/question.ts';
import { gatherYardBook, type Nuc, yardReads } from './yard-book.ts';

const input = z.strictObject({ today: dayShape, yard: idShape.optional() });

/** A trait as it was read last on a colony. */
export type LastScore = { trait: string; value: number; unit: string | null; day: Day; person: string | null };

export type ScoredNuc = Nuc & {
  last: LastScore[];
  /** Traits read on the day asked about. */
  todays: string[];
  /** Means of this year's readings, by trait, with how many there were. */
  year: { trait: string; mean: number; n: number }[];
};

/** A reading with a value; "not judged" and a test not read yet have none. */
type Read = Row<'score'> & { value: number };

const isRead = (row: Row<'score'>): row is Read => row.value !== null;

function yearMeans(rows: readonly Read[], today: Day): ScoredNuc['year'] {
  const ofYear = rows.filter(({ day }) => yearOf(day) === yearOf(today) && day <= today);
  return [...groupBy(ofYear, ({ trait }) => trait)].map(([trait, read]) => ({
    trait,
    mean: read.reduce((sum, { value }) => sum + value, 0) / read.length,
    n: read.length,
  }));
}

/** Colonies to score in walking order, with what was read last (shown only after entry) and this year's means. */
export const scoreCards = question({
  name: 'score-cards',
  what: 'Colonies to score in walking order, what was read on each last, and the means of this year.',
  input,
  reads: [...yardReads, 'score', 'person'] as readonly KindName[],
  async gather({ today, yard }, facts): Promise<{ nucs: ScoredNuc[]; people: { id: string; name: string }[] }> {
    const { nucs } = await gatherYardBook(facts, today);
    const people = new Map((await facts.find('person')).map(({ id, name }) => [id, name]));
    const scores = groupBy(await facts.find('score'), ({ colony }) => colony);
    const here = nucs.filter((nuc) => yard === undefined || nuc.yard?.id === yard);
    const scored = here.map((nuc): ScoredNuc => {
      const rows = (scores.get(nuc.id) ?? []).filter(isRead).sort((a, b) => (a.day < b.day ? -1 : 1));
      const last = new Map(rows.filter(({ day }) => day < today).map((row) => [row.trait, row]));
      return {
        ...nuc,
        last: [...last.values()].map(({ trait, value, unit, day, person }) => ({
          trait,
          value,
          unit,
          day,
          person: person === null ? null : (people.get(person) ?? null),
        })),
        todays: rows.filter(({ day }) => day === today).map(({ trait }) => trait),
        year: yearMeans(rows, today),
      };
    });
    return { nucs: scored, people: [...people].map(([id, name]) => ({ id, name })) };
  },
  answer: (told) => told,
});
