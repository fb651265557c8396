import { mkdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Store } from '#ports/store.ts';
import type { Database } from '#storage/database.ts';
import { openPostgres } from '#storage/postgres/open.ts';
import { openSqlite } from '#storage/sqlite/open.ts';
import { safeCopyOf } from '#storage/sqlite/safe-copy.ts';
import { storeOver } from '#storage/store.ts';
import { bookFile, dataFolder } from './data-folder.ts';
import { machineClock, newMachineId } from './this-machine.ts';

/** Where a book is kept. */
export type Where = { file: string } | { url: string };

/** The book this process is to use: DATABASE_URL, or the file in the data folder. */
export function whereFromEnvironment(env = process.env): Where {
  if (env.DATABASE_URL) return { url: env.DATABASE_URL };
  return { file: bookFile(dataFolder(env)) };
}

/** Opens a book and brings it to this program's schema; an older SQLite file is copied aside first. */
export async function openStore(where: Where): Promise<Store> {
  const db: Database = 'url' in where ? openPostgres(where.url) : openSqlite(where.file);
  const aside = async () => {
    if ('url' in where) return;
    const folder = join(dirname(where.file), 'safe-copies');
    mkdirSync(folder, { recursive: true, mode: 0o700 });
    await safeCopyOf(
      where.file,
      join(folder, `before-update-${machineClock.now().slice(0, 19).replaceAll(':', '')}.sqlite`),
    );
  };
  try {
    return await storeOver(db, { clock: machineClock, epoch: newMachineId(), beforeMigration: aside });
  } catch (error) {
    await db.close();
    throw error;
  }
}
