import { z } from 'zod';
import type { Book, Change } from '#ports/store.ts';
import { dayShape, idShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { action, type Circumstances } from '../mechanism/action.ts';
import { creating, setting } from '../mechanism/recording.ts';
import { ending, openStays } from './where-she-is.ts';

/** The fates of queens found dead: they died between the day they were last looked at and the day they were found. */
export const foundDead = (
  queens: readonly RecordId[],
  span: { from: Day; to: Day },
  { newId }: Circumstances,
): Change[] =>
  queens.map((queen) =>
    creating('fate', newId(), { queen, kind: 'died', happened_on: span.from, happened_latest: span.to }),
  );

/** Marks queens of a nursing as found dead: the care, their fate, and the end of their stays. */
export async function deadInCare(
  care: Row<'care'>,
  queens: readonly RecordId[],
  on: Day,
  circumstances: Circumstances,
): Promise<Change[]> {
  const rows = await circumstances.book.find('care_queen', { care: care.id, queen: queens });
  const stays = [];
  for (const queen of queens) stays.push(...(await openStays(circumstances.book, queen)));
  return [
    ...rows.map(({ id }) => setting('care_queen', id, { found_dead: 1 })),
    ...ending(stays, care.care_from, on),
    ...foundDead(queens, { from: care.care_from, to: on }, circumstances),
  ];
}

/** The queens of a nursing who are neither dead nor let out. */
export async function stillNursed(book: Book, care: Row<'care'>): Promise<RecordId[]> {
  const rows = await book.find('care_queen', { care: care.id });
  const queens = rows.filter(({ found_dead }) => found_dead !== 1).map(({ queen }) => queen);
  const let_in = (await book.find('introduction', { queen: queens })).filter(({ day }) => day >= care.care_from);
  const out = new Set([...let_in, ...(await book.find('fate', { queen: queens }))].map(({ queen }) => queen));
  return queens.filter((queen) => !out.has(queen));
}

const input = z.strictObject({
  care: idShape,
  /** Numbers of the cages whose queens were found dead. */
  cages: z.array(z.string().trim().min(1)).min(1).max(500),
  day: dayShape.optional(),
});

/** The queens that sit in the cages with these numbers, and the numbers nobody of this nursing sits in. */
async function queensIn(
  book: Book,
  care: RecordId,
  numbers: readonly string[],
): Promise<{ queens: RecordId[]; unknown: string[] }> {
  const cages = await book.find('cage', { number: numbers });
  const rows = await book.find('care_queen', { care, cage: cages.map(({ id }) => id) });
  const numberOf = new Map(cages.map(({ id, number }) => [id, number]));
  const found = new Set(rows.map(({ cage }) => (cage === null ? '' : numberOf.get(cage))));
  return { queens: rows.map(({ queen }) => queen), unknown: numbers.filter((number) => !found.has(number)) };
}

/** Says which queens of a nursing were found dead, by the numbers on their cages. */
export const foundDeadInCare = action({
  name: 'found-dead',
  place: 'yard',
  what: 'Say which nursed queens were found dead, by the numbers of their cages.',
  input,
  async run({ care, cages, day }, circumstances) {
    const nursing = await circumstances.book.get('care', care);
    if (nursing === null)
      return { changes: [], result: null, problems: [refuse('care', 'unknown-record', { kind: 'care', id: care })] };
    const { queens, unknown } = await queensIn(circumstances.book, care, cages);
    const problems = unknown.map((cage) => refuse('cages', 'no-such-cage-here', { cage }));
    if (problems.length > 0) return { changes: [], result: null, problems };
    return { changes: await deadInCare(nursing, queens, day ?? circumstances.day, circumstances), result: { queens } };
  },
});
