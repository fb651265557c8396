import { sql } from 'kysely';
import type { Database, Reader } from './database.ts';
import { migrations, schemaVersion } from './migrations/all.ts';

/** Thrown when a database cannot be opened by this program; the message says which and what to do. */
export class CannotOpen extends Error {
  readonly code: 'newer' | 'foreign';
  constructor(code: 'newer' | 'foreign', message: string) {
    super(message);
    this.code = code;
  }
}

/** Tables where this connection's own are; PostgreSQL also keeps former books in schemas beside it. */
async function tablesHere(on: Reader) {
  const tables = await on.introspection.getTables();
  if (tables.every(({ schema }) => schema === undefined)) return tables;
  const { rows } = await sql<{ here: string }>`select current_schema() as here`.execute(on);
  return tables.filter(({ schema }) => schema === rows[0]?.here);
}

async function hasMeta(on: Reader): Promise<boolean> {
  const tables = await tablesHere(on);
  if (tables.some(({ name }) => name === 'meta')) return true;
  if (tables.length === 0) return false;
  throw new CannotOpen(
    'foreign',
    `This database holds ${tables.length} tables that are not Combwright's (the first is "${tables[0]?.name}"). Choose another file or database.`,
  );
}

/** The schema number of a database: 0 when it is empty. */
export async function schemaOf(on: Reader): Promise<number> {
  if (!(await hasMeta(on))) return 0;
  const row = await on.selectFrom('meta').select('value').where('name', '=', 'schema').executeTakeFirst();
  return Number(row?.value ?? 0);
}

async function setMeta(tx: Reader, name: string, value: string): Promise<void> {
  await tx.deleteFrom('meta').where('name', '=', name).execute();
  await tx.insertInto('meta').values({ name, value }).execute();
}

/**
 * Brings a database to this program's schema, one transaction in all.
 * Throws {@link CannotOpen} for one written by a newer program, or one that is not ours.
 * @param epoch a new name for this database, used when it is made
 */
export async function migrate(db: Database, epoch: string, beforeChange: () => Promise<void>): Promise<void> {
  const from = await schemaOf(db.reader);
  if (from > schemaVersion)
    throw new CannotOpen(
      'newer',
      `This database was written by a newer Combwright (schema ${from}; this program knows ${schemaVersion}). Update this program, or choose another database with COMBWRIGHT_DATA or DATABASE_URL.`,
    );
  if (from === schemaVersion) return;
  if (from > 0) await beforeChange();
  await db.writer.transaction().execute(async (tx) => {
    await db.beginWriting(tx);
    // Another process may have been first while this one waited for its turn.
    const now = await schemaOf(tx);
    for (const migration of migrations.slice(now))
      for (const statement of migration.statements(db.dialect)) await sql.raw(statement).execute(tx);
    await setMeta(tx, 'schema', String(schemaVersion));
    if (now === 0) await setMeta(tx, 'epoch', epoch);
  });
}
