import { type BookTable, bookTables } from '#records/book-tables.ts';
import { breathe, type Database, pieces, type Reader } from './database.ts';
import { patiently } from './patiently.ts';

type StoredRow = Readonly<Record<string, unknown>>;

/** Rows read at a time: a book of many photos must not have to fit in memory. */
const ROWS = 500;
const ROWS_OF_BYTES = 4;
const MOST_BOUND = 20_000;

/** The columns that put the rows of a table in a fixed order. */
const orderOf = (table: BookTable): string[] =>
  table.columns
    .filter(({ name }) => ['id', 'seq', 'kind', 'record', 'act', 'undone', 'hash'].includes(name))
    .map(({ name }) => name);

async function* rowsOf(reader: Reader, table: BookTable): AsyncGenerator<StoredRow[]> {
  const size = table.columns.some(({ sql }) => sql === 'bytes') ? ROWS_OF_BYTES : ROWS;
  const names = table.columns.map(({ name }) => name);
  for (let offset = 0; ; offset += size) {
    let query = reader.selectFrom(table.name).select(names).limit(size).offset(offset);
    for (const column of orderOf(table)) query = query.orderBy(column);
    const rows = await query.execute();
    if (rows.length > 0) yield rows;
    if (rows.length < size) return;
  }
}

/** Reads a whole book in one snapshot, table by table, some rows at a time. */
export async function readWholeBook(
  db: Database,
  take: (table: BookTable, rows: readonly StoredRow[]) => Promise<void>,
): Promise<void> {
  await db.reader.transaction().execute(async (tx) => {
    await db.beginReading(tx);
    for (const table of bookTables) for await (const rows of rowsOf(tx, table)) await take(table, rows);
  });
}

/**
 * Fills an empty book, made by our own migrations, with rows of another, in one transaction: whole or not at all.
 * The database's own checks (types, choices, references) run over every row.
 */
export async function fillWholeBook(
  db: Database,
  give: (put: (table: BookTable, rows: readonly StoredRow[]) => Promise<void>) => Promise<void>,
): Promise<void> {
  await patiently(db, () =>
    db.writer.transaction().execute(async (tx) => {
      await db.beginWriting(tx);
      await give(async (table, rows) => {
        for (const piece of pieces(rows, Math.max(1, Math.floor(MOST_BOUND / table.columns.length)))) {
          await tx.insertInto(table.name).values(piece).execute();
          await breathe();
        }
      });
    }),
  );
}

/** Copies a whole book into an empty one. */
export const copyWholeBook = (from: Database, to: Database): Promise<void> =>
  fillWholeBook(to, (put) => readWholeBook(from, put));
