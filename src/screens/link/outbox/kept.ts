import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { Act } from '#ports/store.ts';
import type { SaidProblem } from '../server.ts';

/** An act kept on this device: unsent, taken by the book (`seq`), or set aside by it with its problems. */
export type KeptAct = {
  n: number;
  act: Act;
  state: 'unsent' | 'sent' | 'parked';
  seq: number | null;
  problems: readonly SaidProblem[];
};

interface Shape extends DBSchema {
  acts: { key: number; value: KeptAct; indexes: { state: string } };
  /** The last answer of the book to what a page asked, and what this device remembers between two acts. */
  facts: { key: string; value: unknown };
}

const STRICT = { durability: 'strict' } as const;

let opened: Promise<IDBPDatabase<Shape>> | null = null;

function open(): Promise<IDBPDatabase<Shape>> {
  opened ??= openDB<Shape>('combwright', 1, {
    upgrade(db) {
      db.createObjectStore('acts', { keyPath: 'n' }).createIndex('state', 'state');
      db.createObjectStore('facts');
    },
    blocking: (_current, _blocked, event) => (event.target as IDBDatabase).close(),
    terminated: () => {
      opened = null;
    },
  });
  return opened;
}

/** What one moment at the bench leaves on this device: acts, and the hand they left behind. */
export type ToKeep = { acts: readonly Act[]; fact?: { key: string; value: unknown } };

/** The number of the newest act kept here, as far as this page knows; another page may have kept more since. */
let newest = 0;

/** The newest number on the disk. */
async function newestKept(): Promise<number> {
  const cursor = await (await open()).transaction('acts').store.openKeyCursor(null, 'prev');
  return cursor?.key ?? 0;
}

async function write({ acts, fact }: ToKeep): Promise<KeptAct[]> {
  const db = await open();
  // Between two acts only the hand is kept: there the disk may take its time, a killed browser loses nothing by it.
  const tx = db.transaction(['acts', 'facts'], 'readwrite', acts.length > 0 ? STRICT : { durability: 'relaxed' });
  const kept = acts.map((act, i): KeptAct => {
    const n = newest + i + 1;
    return { n, act: { ...act, n }, state: 'unsent', seq: null, problems: [] };
  });
  const written = kept.map((each) => tx.objectStore('acts').add(each));
  if (fact !== undefined) written.push(tx.objectStore('facts').put(fact.value, fact.key) as never);
  await Promise.all([...written, tx.done]);
  newest += acts.length;
  return kept;
}

/**
 * Keeps acts on this device, in order, numbered on from the last. Done only once they are on the disk, not just in memory
 * (durability `strict`): what is acknowledged survives a kill of the browser and a cut of the power.
 */
export async function keep(kept: ToKeep): Promise<KeptAct[]> {
  if (newest === 0) newest = await newestKept();
  try {
    return await write(kept);
  } catch (error) {
    if (!(error instanceof DOMException) || error.name !== 'ConstraintError') throw error;
    newest = await newestKept();
    return write(kept);
  }
}

/** Every act kept here, oldest first. */
export const keptActs = async (): Promise<KeptAct[]> => (await open()).getAll('acts');

/** Writes what became of acts. */
export async function settle(changed: readonly KeptAct[]): Promise<void> {
  const tx = (await open()).transaction('acts', 'readwrite', STRICT);
  for (const each of changed) void tx.store.put(each);
  await tx.done;
}

/** Takes acts off this device that the book has for certain. The newest stays, so that numbers go on. */
export async function forget(ns: readonly number[]): Promise<void> {
  const tx = (await open()).transaction('acts', 'readwrite');
  for (const n of ns) void tx.store.delete(n);
  await tx.done;
}

/** Keeps something a page can open with while the server is away. */
export async function keepFact(key: string, value: unknown): Promise<void> {
  await (await open()).put('facts', value, key);
}

export const keptFact = async <T>(key: string): Promise<T | null> =>
  ((await (await open()).get('facts', key)) as T | undefined) ?? null;

/** The keys of what is kept that begin so. */
export const keptKeys = async (beginning: string): Promise<string[]> =>
  (await open()).getAllKeys('facts', IDBKeyRange.bound(beginning, `${beginning}\uffff`));
