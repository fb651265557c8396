import { existsSync } from 'node:fs';
import { descentProblems } from '#domain/pedigree/pedigree.ts';
import { gatherLedger } from '#gather/ledger.ts';
import { gatherPedigree } from '#gather/pedigree.ts';
import { examineSqlite, NotOurBook } from '#storage/sqlite/examine.ts';
import { sayProblem } from '#words/say.ts';
import { openStore, type Where } from './open-store.ts';

/** Everything wrong with a book: the file itself, its descent, its ledgers. */
export async function checkBook(where: Where): Promise<string[]> {
  if ('file' in where) {
    if (!existsSync(where.file)) return [`There is no book at ${where.file}.`];
    try {
      examineSqlite(where.file);
    } catch (error) {
      if (error instanceof NotOurBook) return [error.message];
      throw error;
    }
  }
  const store = await openStore(where);
  try {
    const { answer } = await store.read('all', async (facts) => {
      const descent = descentProblems((await gatherPedigree(facts)).facts);
      const ledger = await gatherLedger(facts);
      return [...descent, ...ledger.story.problems];
    });
    return answer.map(sayProblem);
  } finally {
    await store.close();
  }
}
