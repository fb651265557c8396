import { chmodSync, existsSync } from 'node:fs';
import { DatabaseSync, type DatabaseSyncInstance } from '@photostructure/sqlite';
import { Kysely, SqliteDialect, sql } from 'kysely';
import type { Database, Tables } from '../database.ts';
import { sqliteDialect } from '../migrations/migration.ts';
import { markOpen } from './open-marks.ts';

const writing = [
  'PRAGMA journal_mode=WAL',
  // Compiled-in default of the library is NORMAL in WAL mode: an acknowledged act could be lost with the power.
  'PRAGMA synchronous=FULL',
  'PRAGMA foreign_keys=ON',
  // Waiting here would stop the whole process; the act is tried again instead (see journal/write-act.ts).
  'PRAGMA busy_timeout=0',
  'PRAGMA trusted_schema=OFF',
];
const reading = ['PRAGMA busy_timeout=5000', 'PRAGMA trusted_schema=OFF', 'PRAGMA query_only=ON'];

/** SQLITE_BUSY and its extended codes. */
const BUSY = 5;

function connect(file: string, pragmas: readonly string[]): DatabaseSyncInstance {
  const database = new DatabaseSync(file);
  for (const pragma of pragmas) database.exec(pragma);
  return database;
}

type Bound = Parameters<ReturnType<DatabaseSyncInstance['prepare']>['all']>;

function kyselyOver(database: DatabaseSyncInstance, begin: string): Kysely<Tables> {
  const dialect = new SqliteDialect({
    database: {
      prepare(text: string) {
        const statement = database.prepare(text === 'begin' ? begin : text);
        return {
          reader: statement.columns().length > 0,
          all: (bound: readonly unknown[]) => statement.all(...(bound as Bound)) as unknown[],
          run: (bound: readonly unknown[]) => statement.run(...(bound as Bound)),
          iterate: (bound: readonly unknown[]) =>
            statement.iterate(...(bound as Bound)) as unknown as IterableIterator<unknown>,
        };
      },
      close: () => database.close(),
    },
  });
  return new Kysely<Tables>({ dialect });
}

function watchOtherProcesses(database: DatabaseSyncInstance, heard: () => void): () => void {
  const version = () => (database.prepare('PRAGMA data_version').get() as { data_version: number }).data_version;
  let last = version();
  const timer = setInterval(() => {
    const now = version();
    if (now !== last) heard();
    last = now;
  }, 400);
  timer.unref();
  return () => clearInterval(timer);
}

/** Opens (and, when absent, creates) a SQLite file. The file is made readable by its owner alone. */
export function openSqlite(file: string): Database {
  const fresh = !existsSync(file);
  const closed = markOpen(file);
  const forWriting = connect(file, writing);
  if (fresh) chmodSync(file, 0o600);
  const forReading = connect(file, reading);
  const forWatching = connect(file, reading);
  const writer = kyselyOver(forWriting, 'begin immediate');
  const reader = kyselyOver(forReading, 'begin');
  let closing: Promise<void> | null = null;
  const close = async () => {
    // Asking for a connection waits for what is on its way there.
    await reader.connection().execute(async () => {});
    await reader.destroy();
    forWatching.close();
    // A connection with living statements closes only when they are collected, so the write-ahead log is emptied here.
    await writer.connection().execute((alone) => sql`PRAGMA wal_checkpoint(TRUNCATE)`.execute(alone));
    await writer.destroy();
    closed();
  };
  return {
    dialect: sqliteDialect,
    writer,
    reader,
    beginWriting: async (tx) => void (await sql`pragma defer_foreign_keys=on`.execute(tx)),
    beginReading: async () => {},
    isBusy: (error) => ((error as { errcode?: number }).errcode ?? 0) % 256 === BUSY,
    onForeignWrite: (heard) => watchOtherProcesses(forWatching, heard),
    tellOthers: async () => {},
    close: () => {
      closing ??= close();
      return closing;
    },
  };
}
