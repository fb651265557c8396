import { readFile, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname } from 'node:path';
import type { BookWorld } from '#cli/book-world.ts';
import { WrongInput } from '#cli/wrong-input.ts';
import { computeIn } from '#compute/here.ts';
import { nodeComputations } from '#compute/node/computations.ts';
import type { Store } from '#ports/store.ts';
import { CannotOpen } from '#storage/migrate.ts';
import { PlaceTaken } from '#storage/sqlite/safe-copy.ts';
import { checkBook } from './check-book.ts';
import { writeExportTo, writeSafeCopy } from './copies.ts';
import { openStore, type Where, whereFromEnvironment } from './open-store.ts';
import { CannotRestore, restore } from './restore.ts';
import { PortTaken, serveUntilStopped } from './serve.ts';
import { machineClock, machineRandom } from './this-machine.ts';

const remedies: Readonly<Record<string, string>> = {
  ENOENT: 'check the path',
  EISDIR: 'name a file, not a folder',
  EACCES: 'check the rights of the file',
};

async function readOrSay(path: string): Promise<Uint8Array> {
  try {
    return new Uint8Array(await readFile(path));
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? '';
    throw new WrongInput([
      { file: path, found: `a file that cannot be read (${code})`, remedy: remedies[code] ?? 'check it' },
    ]);
  }
}

/** Turns what a person can mend (a newer database, a taken port) into wrong input. */
async function orSay<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof CannotOpen) throw new WrongInput([{ found: error.code, remedy: error.message }]);
    if (error instanceof PlaceTaken) throw new WrongInput([{ found: 'a file in its place', remedy: error.message }]);
    if (error instanceof CannotRestore)
      throw new WrongInput([{ found: 'what cannot be restored', remedy: error.message }]);
    if (error instanceof PortTaken)
      throw new WrongInput([{ column: 'PORT', found: 'a port in use', remedy: error.message }]);
    throw error;
  }
}

const whereOf = (db: string | undefined): Where => {
  if (db === undefined) return whereFromEnvironment();
  return /^postgres(ql)?:/.test(db) ? { url: db } : { file: db };
};

/** The command line's world on this machine, and how to leave it. */
export function machineWorld(): { world: BookWorld; close(): Promise<void> } {
  const opened: Store[] = [];
  const world: BookWorld = {
    read: readOrSay,
    write: (path, bytes) => writeFile(path, bytes),
    tell: (line) => void process.stderr.write(`${line}\n`),
    async book(db) {
      const store = await orSay(() => openStore(whereOf(db)));
      opened.push(store);
      return { store, compute: computeIn(nodeComputations), clock: machineClock, random: machineRandom };
    },
    serve: () => orSay(serveUntilStopped),
    safeCopy: (db, to) => orSay(() => writeSafeCopy(whereOf(db), to)),
    restore: (db, from) => {
      const where = whereOf(db);
      return orSay(() => restore(where, from, 'file' in where ? dirname(where.file) : tmpdir()));
    },
    export: (db, to) => orSay(() => writeExportTo(whereOf(db), to)),
    checkBook: (db) => orSay(() => checkBook(whereOf(db))),
  };
  return {
    world,
    async close() {
      for (const store of opened) await store.close();
    },
  };
}
