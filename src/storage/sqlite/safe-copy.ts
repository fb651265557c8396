import { chmodSync } from 'node:fs';
import { backup, DatabaseSync } from '@photostructure/sqlite';

/** Writes a whole, consistent copy of a SQLite file by the database's own backup call, also while it is in use. */
export async function safeCopyOf(file: string, to: string): Promise<void> {
  const source = new DatabaseSync(file, { readOnly: true });
  try {
    await backup(source, to);
    chmodSync(to, 0o600);
  } finally {
    source.close();
  }
}
