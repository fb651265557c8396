import type { Book, Change } from '#ports/store.ts';
import type { Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { setting } from '../mechanism/recording.ts';

/** Her stays that have not ended. */
export const openStays = (book: Book, queen: RecordId): Promise<Row<'stay'>[]> =>
  book.find('stay', { queen, to_earliest: null, to_latest: null });

/** The queens who sit in a colony and have not left it, as far as known. */
export const openStaysIn = (book: Book, colony: RecordId): Promise<Row<'stay'>[]> =>
  book.find('stay', { colony, to_earliest: null, to_latest: null });

/** Who heads a colony now, or `null`. Where two queens lay side by side it is the one who came last. */
export async function headOf(book: Book, colony: RecordId): Promise<RecordId | null> {
  const heads = (await openStaysIn(book, colony)).filter(({ role }) => role === null || role === 'heads');
  return heads.at(-1)?.queen ?? null;
}

/** The changes that end stays between two days (equal when the day is known). */
export const ending = (stays: readonly Row<'stay'>[], earliest: Day, latest: Day = earliest): Change[] =>
  stays.map(({ id }) => setting('stay', id, { to_earliest: earliest, to_latest: latest }));

/**
 * The nuc she goes home to: the one written down for her at the bench, else the one she headed last. `null` when there is none
 * or it has ended.
 */
export async function homeOf(book: Book, queen: RecordId): Promise<RecordId | null> {
  const written = (await book.find('bench_queen', { queen })).filter(({ home }) => home !== null).at(-1);
  const headed = (await book.find('stay', { queen })).filter(({ colony, role }) => colony !== null && role === 'heads');
  const last = headed.sort((a, b) => ((a.from_latest ?? '') < (b.from_latest ?? '') ? -1 : 1)).at(-1);
  const colony = await book.get('colony', written?.home ?? last?.colony);
  return colony === null || colony.ended !== null ? null : colony.id;
}
