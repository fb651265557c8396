import pg from 'pg';
import { APPLICATION } from './open.ts';

async function withClient<T>(url: string, work: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({ connectionString: url, application_name: `${APPLICATION} restore` });
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end();
  }
}

/** The same database, but tables are made and found in another schema of it. */
export function inSchema(url: string, schema: string): string {
  const there = new URL(url);
  there.searchParams.set('options', `-c search_path=${schema}`);
  return there.href;
}

/** A process that has just stopped is seen by the server for a moment longer: so many milliseconds, asked so often. */
const LINGERS = 3_000;
const EVERY = 100;

/** True when another of our processes is connected to this database, and not only about to be gone. */
export const isOpenElsewherePostgres = (url: string): Promise<boolean> =>
  withClient(url, async (client) => {
    for (let waited = 0; ; waited += EVERY) {
      const { rows } = await client.query<{ n: string }>(
        'select count(*) as n from pg_stat_activity where datname = current_database() and application_name = $1',
        [APPLICATION],
      );
      if (Number(rows[0]?.n ?? 0) === 0) return false;
      if (waited >= LINGERS) return true;
      await new Promise((resolve) => setTimeout(resolve, EVERY));
    }
  });

/** Makes an empty schema for a book that is being restored. */
export const makeSchema = (url: string, schema: string): Promise<void> =>
  withClient(url, async (client) => {
    await client.query(`create schema ${client.escapeIdentifier(schema)}`);
  });

export const dropSchema = (url: string, schema: string): Promise<void> =>
  withClient(url, async (client) => {
    await client.query(`drop schema if exists ${client.escapeIdentifier(schema)} cascade`);
  });

/** Puts a restored schema in the place of the current one, which is kept under another name: both or neither. */
export const changePlaces = (url: string, restored: string, keptAs: string): Promise<void> =>
  withClient(url, async (client) => {
    const { rows } = await client.query<{ here: string }>('select current_schema() as here');
    const here = rows[0]?.here ?? 'public';
    await client.query('begin');
    await client.query(`alter schema ${client.escapeIdentifier(here)} rename to ${client.escapeIdentifier(keptAs)}`);
    await client.query(`alter schema ${client.escapeIdentifier(restored)} rename to ${client.escapeIdentifier(here)}`);
    await client.query('commit');
  });
