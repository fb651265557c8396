import { type BookWorld, dbFlag } from '../book-world.ts';
import type { Command } from '../command.ts';

/** Writes a safe copy. */
export const safeCopyCommand: Command<BookWorld> = {
  name: 'safe-copy',
  summary: 'Copy the whole book into one file, also while it is in use',
  positionals: [{ name: 'file', what: 'where to write it, such as book-2027-06-12.sqlite' }],
  flags: { db: dbFlag },
  async run(given, world) {
    const file = given.text('file');
    await world.safeCopy(given.optionalText('db'), file);
    return { json: { file }, tables: [{ columns: ['safe copy'], rows: [[file]] }] };
  },
};

/** Restores a safe copy or an export. */
export const restoreCommand: Command<BookWorld> = {
  name: 'restore',
  summary: 'Put a safe copy or an export in the place of the book; the former book is kept',
  positionals: [{ name: 'file', what: 'a safe copy, or an export (a folder or a .zip)' }],
  flags: { db: dbFlag },
  async run(given, world) {
    const { keptAs } = await world.restore(given.optionalText('db'), given.text('file'));
    return {
      json: { restored: given.text('file'), keptAs },
      tables: [{ columns: ['restored', 'the former book is kept as'], rows: [[given.text('file'), keptAs]] }],
    };
  },
};

/** Exports the book in open form. */
export const exportCommand: Command<BookWorld> = {
  name: 'export',
  summary: 'Write the whole book in open form: CSV with its description, photos, the acts',
  positionals: [{ name: 'to', what: 'a folder, or a file whose name ends in .zip' }],
  flags: { db: dbFlag },
  async run(given, world) {
    const files = await world.export(given.optionalText('db'), given.text('to'));
    return {
      json: { to: given.text('to'), files },
      tables: [{ columns: ['file', 'rows'], rows: files.map(({ name, rows }) => [name, rows]) }],
    };
  },
};

/** Checks the book. */
export const checkCommand: Command<BookWorld> = {
  name: 'check',
  summary: 'Check the database, descent and ledgers of the book',
  positionals: [],
  flags: { db: dbFlag },
  async run(given, world) {
    const problems = await world.checkBook(given.optionalText('db'));
    const rows = problems.length === 0 ? [['everything is in order']] : problems.map((problem) => [problem]);
    return { json: { problems }, tables: [{ columns: ['found'], rows }] };
  },
};
