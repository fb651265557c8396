import type { Kysely, Transaction } from 'kysely';
import type { Dialect } from './migrations/migration.ts';

/** Tables by name; what a column holds is checked by records/, not here, because every table is handled alike. */
export type Tables = Record<string, Record<string, unknown>>;
export type Reader = Kysely<Tables> | Transaction<Tables>;

/** One opened database with its two connections and the few things the two products do differently. */
export type Database = {
  dialect: Dialect;
  /** The one connection that writes. */
  writer: Kysely<Tables>;
  /** Reads only; sees whole acts, never half of one. */
  reader: Kysely<Tables>;
  /** First words of a writing transaction: takes the turn and defers the checks of references. */
  beginWriting(tx: Transaction<Tables>): Promise<void>;
  /** First words of a reading transaction: one snapshot. */
  beginReading(tx: Transaction<Tables>): Promise<void>;
  /** True when another process held the turn, so the act is to be tried again. */
  isBusy(error: unknown): boolean;
  /** Calls back when another process has written. */
  onForeignWrite(heard: () => void): () => void;
  /** Tells other processes that this one has written. */
  tellOthers(tx: Transaction<Tables>, seq: number): Promise<void>;
  close(): Promise<void>;
};

/** Lets other work of this process have its turn during a long act. */
export const breathe = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/** `items` in pieces of at most `size`. */
export function pieces<T>(items: readonly T[], size: number): T[][] {
  const out: T[][] = [];
  for (let i = 0; i < items.length; i += size) out.push(items.slice(i, i + size));
  return out;
}
