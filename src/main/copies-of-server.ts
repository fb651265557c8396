import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import type { Ports } from '#ports/ports.ts';
import type { Copies } from '#server/app.ts';
import { exportFiles, lastSafeCopy, makeSafeCopy, writeSafeCopy, zipOf } from './copies.ts';
import { dataFolder } from './data-folder.ts';
import { openStore, type Where } from './open-store.ts';
import { CannotRestore, restore } from './restore.ts';

/** A day, in milliseconds: a safe copy older than this is made anew when the server starts. */
const A_DAY = 86_400_000;

/** Runs `work` with a private temporary file, gone afterwards. */
async function withFile<T>(work: (file: string) => Promise<T>): Promise<T> {
  const folder = mkdtempSync(join(tmpdir(), 'combwright-'));
  try {
    return await work(join(folder, 'book'));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** What a running server can do with copies of its book. After a restore `ports.store` is the restored one. */
export function copiesOf(where: Where, ports: Ports): Copies {
  const home = 'file' in where ? dirname(where.file) : dataFolder();
  const folder = join(home, 'safe-copies');
  const copies: Copies = {
    last() {
      const at = lastSafeCopy(folder);
      return at === null ? null : new Date(at).toISOString();
    },
    make: async () => void (await makeSafeCopy(where, folder)),
    download: () =>
      withFile(async (file) => {
        await writeSafeCopy(where, file);
        return new Uint8Array(readFileSync(file));
      }),
    export: async () => zipOf((await exportFiles(where)).files),
    restore: (bytes) =>
      withFile(async (file) => {
        writeFileSync(file, bytes, { mode: 0o600 });
        await ports.store.close();
        try {
          return await restore(where, file, home);
        } catch (error) {
          if (error instanceof CannotRestore) return { refused: error.message };
          throw error;
        } finally {
          ports.store = await openStore(where);
        }
      }),
  };
  const old = lastSafeCopy(folder);
  if (old === null || Date.now() - old > A_DAY)
    ports.store
      .seq()
      .then((seq) => (seq > 0 ? copies.make() : undefined))
      .catch((error: unknown) => console.error('No safe copy could be made:', error));
  return copies;
}
