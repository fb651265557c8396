import { createHash } from 'node:crypto';
import type { Transaction } from 'kysely';
import type { Act, Book, Done, Kept, News, Refused } from '#ports/store.ts';
import type { Moment } from '#units/moment.ts';
import { refuse } from '#units/problem.ts';
import { breathe, type Database, pieces, type Tables } from '../database.ts';
import { patiently } from '../patiently.ts';
import { bookOver, type WritingBook } from './book.ts';

/** JSON with its keys in order, so that the same content always reads the same. */
function canonical(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonical).join(',')}]`;
  if (value === null || typeof value !== 'object') return JSON.stringify(value) ?? 'null';
  const fields = Object.entries(value).filter(([, held]) => held !== undefined);
  const sorted = fields.sort(([a], [b]) => (a < b ? -1 : 1));
  return `{${sorted.map(([name, held]) => `${JSON.stringify(name)}:${canonical(held)}`).join(',')}}`;
}

const fingerprintOf = (act: Act): string =>
  createHash('sha256')
    .update(canonical({ name: act.name, input: act.input }))
    .digest('hex');

type Stored = Readonly<Record<string, unknown>>;

/** The fields that differ, before and after; a record that was not there (or is gone) is `null` on that side. */
function difference(
  before: Stored | null,
  after: Stored | null,
): { before: Stored | null; after: Stored | null } | null {
  if (before === null || after === null) return before === after ? null : { before, after };
  const changed = Object.keys(after).filter((field) => before[field] !== after[field]);
  if (changed.length === 0) return null;
  const only = (row: Stored) => Object.fromEntries(changed.map((field) => [field, row[field]]));
  return { before: only(before), after: only(after) };
}

const asText = (image: Stored | null): string | null => (image === null ? null : JSON.stringify(image));

async function writeImages(tx: Transaction<Tables>, seq: number, book: WritingBook): Promise<void> {
  const rows: Record<string, unknown>[] = [];
  for (const [kind, records] of book.images())
    for (const [record, { before, now }] of records) {
      const changed = difference(before, now);
      if (changed !== null)
        rows.push({ seq, kind, record, before: asText(changed.before), after: asText(changed.after) });
    }
  for (const piece of pieces(rows, 200)) {
    await tx.insertInto('change').values(piece).execute();
    await breathe();
  }
}

async function earlier(tx: Transaction<Tables>, act: Act, fingerprint: string): Promise<Done | Refused | null> {
  const row = await tx
    .selectFrom('act')
    .select(['seq', 'fingerprint', 'result'])
    .where('id', '=', act.id)
    .executeTakeFirst();
  if (row === undefined) return null;
  if (row.fingerprint !== fingerprint) return { problems: [refuse('id', 'act-id-used', { id: act.id })] };
  return { seq: Number(row.seq), again: true, result: JSON.parse(String(row.result)), touched: [], warnings: [] };
}

type ActRow = { act: Act; seq: number; fingerprint: string; recorded: Moment; kept: Kept };

async function writeActRow(tx: Transaction<Tables>, { act, seq, fingerprint, recorded, kept }: ActRow): Promise<void> {
  await tx
    .insertInto('act')
    .values({
      id: act.id,
      seq,
      name: act.name,
      input: JSON.stringify(act.input ?? null),
      fingerprint,
      seen: act.seen ?? null,
      done: act.done,
      recorded,
      device: act.device ?? null,
      n: act.n ?? null,
      who: act.who ?? null,
      happened: act.happened ? 1 : 0,
      result: JSON.stringify(kept.result ?? null),
    })
    .execute();
  for (const undone of kept.undoes ?? []) await tx.insertInto('act_undoes').values({ act: act.id, undone }).execute();
}

/** Thrown to leave the transaction without keeping anything; never seen outside this file. */
class LeaveAsItWas extends Error {
  readonly answer: Done | Refused;
  constructor(answer: Done | Refused) {
    super('nothing is kept');
    this.answer = answer;
  }
}

type Body = (book: Book) => Promise<Kept | Refused>;
type Writing = { db: Database; act: Act; body: Body; recorded: Moment };

async function once({ db, act, body, recorded }: Writing): Promise<Done> {
  const fingerprint = fingerprintOf(act);
  return db.writer.transaction().execute(async (tx) => {
    await db.beginWriting(tx);
    const before = await earlier(tx, act, fingerprint);
    if (before !== null) throw new LeaveAsItWas(before);
    const book = bookOver(tx);
    const kept = await body(book);
    if ('problems' in kept) throw new LeaveAsItWas(kept);
    const last = await tx
      .selectFrom('act')
      .select((e) => e.fn.max('seq').as('last'))
      .executeTakeFirst();
    const seq = Number(last?.last ?? 0) + 1;
    await writeActRow(tx, { act, seq, fingerprint, recorded, kept });
    await writeImages(tx, seq, book);
    await db.tellOthers(tx, seq);
    return { seq, again: false, result: kept.result, touched: book.touched(), warnings: kept.warnings };
  });
}

/** Records one act; waits its turn when another process is writing. */
export async function writeAct(writing: Writing): Promise<Done | Refused> {
  try {
    return await patiently(writing.db, () => once(writing));
  } catch (error) {
    if (error instanceof LeaveAsItWas) return error.answer;
    throw error;
  }
}

/** What a kept act tells listeners; nothing when it had been done before. */
export const newsOf = (done: Done | Refused): News | null =>
  'problems' in done || done.again ? null : { seq: done.seq, touched: done.touched };
