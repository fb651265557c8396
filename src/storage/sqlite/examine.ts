import { DatabaseSync, type DatabaseSyncInstance } from '@photostructure/sqlite';
import { bookTables } from '#records/book-tables.ts';
import { schemaVersion } from '../migrations/all.ts';

/** Thrown for a file that is not a safe copy of ours; the message says what is wrong with it. */
export class NotOurBook extends Error {}

type Item = { type: string; name: string; sql: string | null };

const ours = new Set([...bookTables.map(({ name }) => name), 'meta']);

function checkItems(items: readonly Item[]): void {
  for (const { type, name, sql } of items) {
    if (name.startsWith('sqlite_')) continue;
    if (type === 'trigger' || type === 'view') throw new NotOurBook(`It holds a ${type} "${name}", which no book has.`);
    if (type === 'table' && !ours.has(name)) throw new NotOurBook(`It holds a table "${name}", which no book has.`);
    if (type === 'table' && /^\s*create\s+virtual/i.test(sql ?? ''))
      throw new NotOurBook(`Its table "${name}" runs code of its own.`);
  }
  if (!items.some(({ type, name }) => type === 'table' && name === 'act')) throw new NotOurBook('It holds no acts.');
}

/**
 * Looks at a SQLite file from outside without trusting it: read-only, no schema code run, its integrity checked, foreign
 * tables, triggers and views refused. Gives its schema number. Throws {@link NotOurBook}.
 */
export function examineSqlite(file: string): number {
  let database: DatabaseSyncInstance;
  try {
    database = new DatabaseSync(file, { readOnly: true });
    database.exec('PRAGMA trusted_schema=OFF; PRAGMA query_only=ON; PRAGMA cell_size_check=ON');
  } catch {
    throw new NotOurBook('It cannot be opened as a database.');
  }
  try {
    checkItems(database.prepare('select type, name, sql from sqlite_master').all() as Item[]);
    const [verdict] = database.prepare('PRAGMA integrity_check(1)').all() as { integrity_check: string }[];
    if (verdict?.integrity_check !== 'ok') throw new NotOurBook(`It is damaged: ${verdict?.integrity_check}.`);
    const row = database.prepare("select value from meta where name = 'schema'").get() as
      | { value?: string }
      | undefined;
    const schema = Number(row?.value);
    if (!Number.isInteger(schema) || schema < 1) throw new NotOurBook('It does not say which schema it has.');
    if (schema > schemaVersion)
      throw new NotOurBook(
        `It was written by a newer Combwright (schema ${schema}, known here up to ${schemaVersion}).`,
      );
    return schema;
  } catch (error) {
    if (error instanceof NotOurBook) throw error;
    throw new NotOurBook(`It cannot be read as a book: ${error instanceof Error ? error.message : error}`);
  } finally {
    database.close();
  }
}
