import { Kysely, PostgresDialect, sql } from 'kysely';
import pg from 'pg';
import type { Database, Tables } from '../database.ts';
import { postgresDialect } from '../migrations/migration.ts';

/** Any fixed number: every act of every process takes this lock, so the order of numbers is the order of commits. */
const ACT_LOCK = 0x0c0b1;
const CHANNEL = 'combwright_act';
/** How our connections are called, so that a restore sees whether another process uses the book. */
export const APPLICATION = 'combwright';

function listenFor(url: string, heard: () => void): () => void {
  const client = new pg.Client({ connectionString: url, application_name: APPLICATION });
  client.on('notification', heard);
  client.on('error', () => {});
  const ready = client.connect().then(() => client.query(`listen ${CHANNEL}`));
  ready.catch(() => {});
  return () => void ready.then(() => client.end()).catch(() => {});
}

/** Opens a PostgreSQL database by its URL. Its schema is made by the same migrations as SQLite's. */
export function openPostgres(url: string): Database {
  const pool = new pg.Pool({ connectionString: url, max: 6, application_name: APPLICATION });
  pool.on('error', () => {});
  const both = new Kysely<Tables>({ dialect: new PostgresDialect({ pool }) });
  return {
    dialect: postgresDialect,
    writer: both,
    reader: both,
    beginWriting: async (tx) => {
      await sql`select pg_advisory_xact_lock(${ACT_LOCK})`.execute(tx);
      await sql`set constraints all deferred`.execute(tx);
    },
    beginReading: async (tx) => {
      await sql`set transaction isolation level repeatable read, read only`.execute(tx);
    },
    isBusy: (error) => ['40001', '40P01'].includes((error as { code?: string }).code ?? ''),
    onForeignWrite: (heard) => listenFor(url, heard),
    tellOthers: async (tx, seq) => {
      await sql`select pg_notify(${CHANNEL}, ${String(seq)})`.execute(tx);
    },
    close: () => both.destroy(),
  };
}
