import { type CsvProblem, eachRow, fieldNumber, fieldText, openCsv } from '#numeric/csv/csv.ts';
import { type BookTable, bookTables } from '#records/book-tables.ts';
import { unprotectText } from './csv-text.ts';
import { bytesIndex, bytesPath, pathOf } from './describe-tables.ts';

type StoredRow = Record<string, unknown>;
export type ReadTable = { table: BookTable; rows: StoredRow[] };
export type ExportProblem = { file: string; row?: number; column?: string; found: string; expected: string };

/** Thrown for an export that cannot be read back; every problem names its file. */
export class BadExport extends Error {
  readonly problems: readonly ExportProblem[];
  constructor(problems: readonly ExportProblem[]) {
    super(problems.map(({ file, found }) => `${file}: ${found}`).join('\n'));
    this.problems = problems;
  }
}

const asProblem = (file: string, { code, row, found, expected }: CsvProblem): ExportProblem => ({
  file,
  row,
  found: `${code}: ${found}`,
  expected,
});

type Files = ReadonlyMap<string, Uint8Array>;

function rowsOf(table: BookTable, bytes: Uint8Array, problems: ExportProblem[]): StoredRow[] {
  const file = pathOf(table);
  const csv = openCsv(bytes);
  if ('code' in csv) {
    problems.push(asProblem(file, csv));
    return [];
  }
  const places = table.columns.map(({ name, sql }) => ({ name, sql, at: csv.columns.indexOf(name) }));
  for (const { name } of places.filter(({ at }) => at < 0))
    problems.push({ file, row: 1, column: name, found: 'no such column', expected: `the column ${name}` });
  const rows: StoredRow[] = [];
  const wrong = eachRow(csv, (row) => {
    const read: StoredRow = {};
    for (const { name, sql, at } of places) {
      const text = at < 0 ? '' : fieldText(csv, row, at);
      const value = text === '' ? null : sql === 'text' ? unprotectText(text) : fieldNumber(csv, row, at);
      if (typeof value === 'number' && Number.isNaN(value))
        problems.push({ file, row: row.number, column: name, found: text, expected: 'a number' });
      read[name] = value;
    }
    rows.push(read);
  });
  problems.push(...wrong.map((each) => asProblem(file, each)));
  return rows;
}

/** Puts to each line of the index the bytes of its file. */
function withBytes(rows: readonly StoredRow[], files: Files, problems: ExportProblem[]): StoredRow[] {
  return rows.flatMap((row) => {
    const file = bytesPath(String(row.hash));
    const bytes = files.get(file);
    if (bytes !== undefined) return [{ ...row, bytes: Buffer.from(bytes) }];
    problems.push({ file, found: 'no such file', expected: 'the bytes named in bytes_kept.csv' });
    return [];
  });
}

/** Reads an export back into rows; files are given by their path inside it. Throws {@link BadExport}. */
export function readExport(files: Files): ReadTable[] {
  const problems: ExportProblem[] = [];
  const out: ReadTable[] = [];
  for (const table of bookTables) {
    const bytes = files.get(pathOf(table));
    const isIndex = table.name === bytesIndex.name;
    if (bytes === undefined) problems.push({ file: pathOf(table), found: 'no such file', expected: 'one CSV a table' });
    else {
      const rows = rowsOf(isIndex ? bytesIndex : table, bytes, problems);
      out.push({ table, rows: isIndex ? withBytes(rows, files, problems) : rows });
    }
  }
  if (problems.length > 0) throw new BadExport(problems);
  return out;
}
