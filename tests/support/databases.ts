import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import type { Store } from '#ports/store.ts';
import type { Database } from '#storage/database.ts';
import { openPostgres } from '#storage/postgres/open.ts';
import { openSqlite } from '#storage/sqlite/open.ts';
import { storeOver } from '#storage/store.ts';
import type { Moment } from '#units/moment.ts';

/** A fixed clock: tests say what time it is. */
export const noon = '2027-06-12T12:00:00.000+02:00[Europe/Berlin]' as Moment;
export const clock = { now: () => noon };

export type Fresh = { name: string; db: Database; store: Store; reopen(): Promise<Store>; end(): Promise<void> };

async function freshSqlite(): Promise<Fresh> {
  const folder = mkdtempSync(join(tmpdir(), 'combwright-test-'));
  const file = join(folder, 'book.sqlite');
  const db = openSqlite(file);
  const store = await storeOver(db, { clock, epoch: 'test' });
  const opened: Store[] = [store];
  return {
    name: 'SQLite',
    db,
    store,
    async reopen() {
      const again = await storeOver(openSqlite(file), { clock, epoch: 'other' });
      opened.push(again);
      return again;
    },
    async end() {
      for (const each of opened) await each.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** URL of the real PostgreSQL server that scripts/test.mjs started; absent where there is none. */
const server = process.env.COMBWRIGHT_TEST_POSTGRES;
let made = 0;

async function freshPostgres(): Promise<Fresh> {
  const name = `t_${process.pid}_${Date.now()}_${made++}`;
  const admin = new pg.Client({ connectionString: server });
  await admin.connect();
  await admin.query(`create database ${name}`);
  const url = new URL(server ?? '');
  url.pathname = `/${name}`;
  const db = openPostgres(url.href);
  const store = await storeOver(db, { clock, epoch: 'test' });
  const opened: Store[] = [store];
  return {
    name: 'PostgreSQL',
    db,
    store,
    async reopen() {
      const again = await storeOver(openPostgres(url.href), { clock, epoch: 'other' });
      opened.push(again);
      return again;
    },
    async end() {
      for (const each of opened) await each.close();
      await admin.query(`drop database ${name} with (force)`);
      await admin.end();
    },
  };
}

/** Every database the contract must hold on, with a way to make a fresh one. */
export const databases = [
  { name: 'SQLite', fresh: freshSqlite, here: true },
  { name: 'PostgreSQL', fresh: freshPostgres, here: server !== undefined },
];
