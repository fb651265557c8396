import { z } from 'zod';
import type { QueenFace } from '#domain/marking/queen-face.ts';
import { traitsIn } from '#domain/scoring/season-records.ts';
import type { WorthFacts } from '#domain/worth/choices.ts';
import { readOnce } from '#gather/read-once.ts';
import { gatherWorth, worthReads, worthRecords } from '#gather/worth.ts';
import { dayShape } from '#records/field.ts';
import type { KindName } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { type Question, question } from '../mechanism/question.ts';
import { facedQueens, faceReads } from './queen-faces.ts';

const input = z.strictObject({
  today: dayShape,
  /** The month a test year begins in, 1-12. */
  month: z.int().min(1).max(12).optional(),
});

type Answer = WorthFacts & {
  /** Traits with records, the book's own first. */
  traits: string[];
  /** Queens by id, as they are recognised. */
  faces: Record<string, QueenFace>;
};

/** Descent, season records and years: what worth is worked out from, wherever it is worked out. */
export const worthFacts: Question<{ today: Day; month?: number | undefined }, Answer, Answer> = question({
  name: 'worth-facts',
  what: 'Descent, season records and birth years: everything breeding values are worked out from.',
  input,
  reads: [...worthReads, ...faceReads] as readonly KindName[],
  async gather({ today, month }, snapshot): Promise<Answer> {
    const facts = readOnce(snapshot);
    const { faced, living } = await facedQueens(facts, today);
    const gathered = await gatherWorth(facts, { month, living });
    const { pedigree, years, lines, records } = gathered;
    return {
      pedigree,
      years,
      lines,
      records: worthRecords(gathered),
      traits: traitsIn(records),
      faces: Object.fromEntries(faced.map(({ face }) => [face.id, face])),
    };
  },
  answer: (told) => told,
});
