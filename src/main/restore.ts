import { copyFileSync, existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { BadExport, readExport } from '#documents/export/read-export.ts';
import { BadZip, readZip } from '#documents/zip/read-zip.ts';
import type { Database } from '#storage/database.ts';
import { migrate } from '#storage/migrate.ts';
import {
  changePlaces,
  dropSchema,
  inSchema,
  isOpenElsewherePostgres,
  makeSchema,
} from '#storage/postgres/change-places.ts';
import { openPostgres } from '#storage/postgres/open.ts';
import { examineSqlite, NotOurBook } from '#storage/sqlite/examine.ts';
import { openSqlite } from '#storage/sqlite/open.ts';
import { isOpen } from '#storage/sqlite/open-marks.ts';
import { copyWholeBook, fillWholeBook } from '#storage/whole-book.ts';
import type { Where } from './open-store.ts';
import { machineClock, newMachineId } from './this-machine.ts';

/** Thrown when what was given cannot be restored, or the book may not be replaced now. A person reads the message. */
export class CannotRestore extends Error {}

const isZip = (file: string) => readFileSync(file).subarray(0, 4).toString('latin1') === 'PK\u0003\u0004';
const clockText = () => machineClock.now().slice(0, 19).replaceAll(/[-:]/g, '').replace('T', '-');

/** A fresh, empty book made by our own migrations. */
async function emptyBook(where: Where): Promise<Database> {
  const db = 'url' in where ? openPostgres(where.url) : openSqlite(where.file);
  await migrate(db, newMachineId(), async () => {});
  return db;
}

function filesOf(from: string): Map<string, Uint8Array> {
  if (!statSync(from).isDirectory()) return readZip(new Uint8Array(readFileSync(from)));
  const entries = readdirSync(from, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile());
  return new Map(
    entries.map((entry) => {
      const path = join(entry.parentPath, entry.name);
      const name = path.slice(from.length).replaceAll('\\', '/').replace(/^\//, '');
      return [name, new Uint8Array(readFileSync(path))];
    }),
  );
}

async function fillFromExport(db: Database, from: string): Promise<void> {
  const tables = readExport(filesOf(from));
  await fillWholeBook(db, async (put) => {
    for (const { table, rows } of tables) await put(table, rows);
  });
}

/** Fills from a safe copy. The file itself is never adopted: it is copied aside, examined, brought up to date, and its rows are copied. */
async function fillFromCopy(db: Database, from: string, folder: string): Promise<void> {
  const aside = join(folder, `.restoring-${process.pid}.sqlite`);
  // What has not been written back from a log beside the file belongs to it.
  for (const end of ['', '-wal']) if (existsSync(`${from}${end}`)) copyFileSync(`${from}${end}`, `${aside}${end}`);
  try {
    examineSqlite(aside);
    const source = await emptyBook({ file: aside });
    try {
      await copyWholeBook(source, db);
    } finally {
      await source.close();
    }
  } finally {
    for (const end of ['', '-wal', '-shm']) rmSync(`${aside}${end}`, { force: true });
  }
}

async function fillFrom(db: Database, from: string, folder: string): Promise<void> {
  try {
    if (statSync(from).isDirectory() || isZip(from)) await fillFromExport(db, from);
    else await fillFromCopy(db, from, folder);
  } catch (error) {
    if (error instanceof NotOurBook || error instanceof BadZip)
      throw new CannotRestore(`${basename(from)}: ${error.message}`);
    if (error instanceof BadExport) throw new CannotRestore(error.message);
    if (/constraint|violates|cannot store/i.test(String(error)))
      throw new CannotRestore(`${basename(from)}: its records do not fit together (${String(error)}).`);
    throw error;
  }
}

const inUse = 'Another process has the book open. Stop it (Ctrl-C where it runs), then restore again.';

async function restoreFile(file: string, from: string): Promise<string | null> {
  const folder = dirname(file);
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  if (isOpen(file)) throw new CannotRestore(inUse);
  const fresh = join(folder, `.restored-${process.pid}.sqlite`);
  rmSync(fresh, { force: true });
  const db = await emptyBook({ file: fresh });
  try {
    await fillFrom(db, from, folder);
  } catch (error) {
    await db.close();
    rmSync(fresh, { force: true });
    throw error;
  }
  await db.close();
  const keptAs = existsSync(file) ? join(folder, `before-restore-${clockText()}.sqlite`) : null;
  if (keptAs !== null) renameSync(file, keptAs);
  for (const end of ['-wal', '-shm']) rmSync(`${file}${end}`, { force: true });
  renameSync(fresh, file);
  return keptAs;
}

async function restorePostgres(url: string, from: string, folder: string): Promise<string> {
  if (await isOpenElsewherePostgres(url)) throw new CannotRestore(inUse);
  const stamp = clockText().replace('-', '_');
  const schema = `restoring_${stamp}`;
  await makeSchema(url, schema);
  try {
    const db = await emptyBook({ url: inSchema(url, schema) });
    try {
      await fillFrom(db, from, folder);
    } finally {
      await db.close();
    }
    const keptAs = `before_restore_${stamp}`;
    await changePlaces(url, schema, keptAs);
    return keptAs;
  } catch (error) {
    await dropSchema(url, schema);
    throw error;
  }
}

/**
 * Puts a safe copy or an export in the place of a book. The former book is kept, under a name with the time.
 * Nothing has changed when it throws. Throws {@link CannotRestore}.
 * @param folder where files may stand while this runs
 * @returns the name the former book is kept under
 */
export async function restore(where: Where, from: string, folder: string): Promise<{ keptAs: string | null }> {
  if (!existsSync(from)) throw new CannotRestore(`There is no file ${from}.`);
  return {
    keptAs: 'url' in where ? await restorePostgres(where.url, from, folder) : await restoreFile(where.file, from),
  };
}
