import type { Database } from './database.ts';

/** How long a write waits for its turn before it gives up, milliseconds. */
const PATIENCE = 10_000;

/** Milliseconds to wait before try `n`: 2, 3, 4.5 … at most 100, spread so that two writers do not march in step. */
const pause = (n: number): number => Math.min(2 * 1.5 ** n, 100) * (0.5 + Math.random());

/** Does a write, and does it again while another process holds the turn. Other failures are thrown at once. */
export async function patiently<T>(db: Database, write: () => Promise<T>): Promise<T> {
  const until = Date.now() + PATIENCE;
  for (let n = 0; ; n++) {
    try {
      return await write();
    } catch (error) {
      if (!db.isBusy(error) || Date.now() > until) throw error;
      await new Promise((resolve) => setTimeout(resolve, pause(n)));
    }
  }
}
