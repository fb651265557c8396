import { chmodSync, existsSync } from 'node:fs';
import { backup, DatabaseSync } from '@photostructure/sqlite';

/** Thrown when the place of a copy is taken: a copy never writes over a file. */
export class PlaceTaken extends Error {}

/**
 * Writes a whole, consistent copy of a SQLite file by the database's own backup call, also while it is in use. The copy is
 * one file, without a write-ahead log beside it. Throws {@link PlaceTaken}.
 */
export async function safeCopyOf(file: string, to: string): Promise<void> {
  if (existsSync(to)) throw new PlaceTaken(`There is a file ${to} already. Choose another name.`);
  const source = new DatabaseSync(file, { readOnly: true });
  try {
    await backup(source, to);
  } finally {
    source.close();
  }
  chmodSync(to, 0o600);
  const copy = new DatabaseSync(to);
  copy.exec('PRAGMA journal_mode=DELETE');
  copy.close();
}
