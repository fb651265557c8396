import { existsSync, mkdirSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve, sep } from 'node:path';
import { zipSync } from 'fflate';
import { type ExportFile, writeExport } from '#documents/export/write-export.ts';
import { migrate } from '#storage/migrate.ts';
import { openPostgres } from '#storage/postgres/open.ts';
import { openSqlite } from '#storage/sqlite/open.ts';
import { PlaceTaken, safeCopyOf } from '#storage/sqlite/safe-copy.ts';
import { copyWholeBook, readWholeBook } from '#storage/whole-book.ts';
import type { Where } from './open-store.ts';
import { machineClock, newMachineId } from './this-machine.ts';

/** Writes a safe copy of a book, also while it is in use: one SQLite file that holds everything. */
export async function writeSafeCopy(where: Where, to: string): Promise<void> {
  if ('file' in where) return safeCopyOf(where.file, to);
  if (existsSync(to)) throw new PlaceTaken(`There is a file ${to} already. Choose another name.`);
  const from = openPostgres(where.url);
  const copy = openSqlite(to);
  try {
    await migrate(copy, newMachineId(), async () => {});
    await copyWholeBook(from, copy);
  } finally {
    await copy.close();
    await from.close();
  }
}

const openAs = (where: Where) => ('url' in where ? openPostgres(where.url) : openSqlite(where.file));

/** Every file of an export, in memory. */
export async function exportFiles(
  where: Where,
): Promise<{ files: ExportFile[]; counts: { name: string; rows: number }[] }> {
  const db = openAs(where);
  const files: ExportFile[] = [];
  try {
    const counts = await writeExport((take) => readWholeBook(db, take), {
      made: machineClock.now(),
      keep: async (file) => void files.push(file),
    });
    return { files, counts };
  } finally {
    await db.close();
  }
}

/** An export as one zip. */
export const zipOf = (files: readonly ExportFile[]): Uint8Array<ArrayBuffer> =>
  new Uint8Array(zipSync(Object.fromEntries(files.map(({ name, bytes }) => [name, bytes])), { level: 6 }));

/** Writes an export into a folder, or into a file whose name ends in .zip. */
export async function writeExportTo(where: Where, to: string): Promise<{ name: string; rows: number }[]> {
  const { files, counts } = await exportFiles(where);
  if (to.toLowerCase().endsWith('.zip')) writeFileSync(to, zipOf(files), { mode: 0o600 });
  else
    for (const { name, bytes } of files) {
      const path = resolve(to, name);
      if (!path.startsWith(resolve(to) + sep)) throw new Error(`unreachable: ${name} leaves the folder`);
      mkdirSync(dirname(path), { recursive: true });
      writeFileSync(path, bytes);
    }
  return counts;
}

/** Safe copies the program makes by itself stand here, the newest kept. */
const MOST_COPIES = 14;
const nameOf = () => `${machineClock.now().slice(0, 19).replaceAll(':', '').replace('T', '-')}.sqlite`;

const copiesIn = (folder: string): string[] =>
  existsSync(folder)
    ? readdirSync(folder)
        .filter((name) => /^\d{4}-.*\.sqlite$/.test(name))
        .sort()
    : [];

/** When the last safe copy was made, milliseconds since 1970; `null` when there is none. */
export function lastSafeCopy(folder: string): number | null {
  const last = copiesIn(folder).at(-1);
  return last === undefined ? null : statSync(join(folder, last)).mtimeMs;
}

/** Makes a safe copy in the folder of copies and takes the oldest away when there are many. */
export async function makeSafeCopy(where: Where, folder: string): Promise<string> {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const to = join(folder, nameOf());
  if (existsSync(to)) rmSync(to);
  await writeSafeCopy(where, to);
  for (const old of copiesIn(folder).slice(0, -MOST_COPIES)) rmSync(join(folder, old), { force: true });
  return to;
}
