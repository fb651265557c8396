import type { Sql } from './field.ts';
import { kindNames, kinds, referencesOf } from './kinds.ts';

/** One table of a whole book, as it is copied, exported and restored. */
export type BookTable = {
  name: string;
  /** Columns in order, with how each is stored; `bytes` only where photos and uploads are kept. */
  columns: readonly { name: string; sql: Sql | 'bytes'; refers?: string }[];
};

const recordTables: BookTable[] = kindNames.map((name) => {
  const refers = new Map(referencesOf(name).map(({ field, to }) => [field, to]));
  const columns = Object.entries(kinds[name].fields).map(([field, { sql }]) => {
    const to = refers.get(field);
    return { name: field, sql, ...(to === undefined || to === '*' ? {} : { refers: to }) };
  });
  return { name, columns: [{ name: 'id', sql: 'text' }, ...columns] };
});

const table = (name: string, columns: Readonly<Record<string, Sql | 'bytes'>>): BookTable => ({
  name,
  columns: Object.entries(columns).map(([column, sql]) => ({ name: column, sql })),
});

/** The journal: acts in order, which act undoes which, and every change with its images as JSON. */
const journalTables: BookTable[] = [
  table('act', {
    id: 'text',
    seq: 'integer',
    name: 'text',
    input: 'text',
    fingerprint: 'text',
    seen: 'integer',
    done: 'text',
    recorded: 'text',
    device: 'text',
    n: 'integer',
    who: 'text',
    happened: 'integer',
    result: 'text',
  }),
  table('act_undoes', { act: 'text', undone: 'text' }),
  table('change', { seq: 'integer', kind: 'text', record: 'text', before: 'text', after: 'text' }),
  table('parked_act', { id: 'text', content: 'text', problems: 'text', received: 'text' }),
  table('bytes_kept', { hash: 'text', form: 'text', bytes: 'bytes' }),
];

/** Every table that makes up a book: its journal and its records. What is not here (the schema number, the epoch) belongs to a database. */
export const bookTables: readonly BookTable[] = [...journalTables, ...recordTables];
