/** SEMEN.csv, `batch,source,share,drones`: one row a source of a batch, codes as dictionary numbers until all tables are read. */
import { addBuffer } from '#numeric/csv/byte-dictionary.ts';
import { type Csv, type CsvRow, eachRow, fieldNumber, fieldText, openCsv } from '#numeric/csv/csv.ts';
import { NONE } from '../stock.ts';
import { csvFileProblem, type FileProblem, fileProblem } from './file-problem.ts';
import { type Codes, internCode, MOST_PROBLEMS } from './queens-table.ts';

/** One source of a batch: its code as a queen and as a batch, whichever it turns out to be. */
export type SemenRow = {
  batch: number;
  asQueen: number;
  asBatch: number;
  source: string;
  /** `null` when not written. */
  share: number | null;
  drones: number | null;
  row: number;
};

/** The rows read, in their order, and what is wrong with the others. */
export type SemenTable = { file: string; rows: SemenRow[]; problems: FileProblem[] };

const COLUMNS = ['batch', 'source', 'share', 'drones'] as const;
type Column = (typeof COLUMNS)[number];

/**
 * Reads the table. Problems are collected in it; a row without batch or source is left out, a share or number that is none becomes null.
 * @example const codes = { queens: makeDictionary(), batches: makeDictionary() };
 * readSemenTable('SEMEN.csv', new TextEncoder().encode('batch,source,share,drones\nP,Q3,0.5,5\n'), codes).rows // [{ source: 'Q3', share: 0.5, drones: 5, row: 2 }]
 */
export function readSemenTable(file: string, bytes: Uint8Array, codes: Codes): SemenTable {
  const table: SemenTable = { file, rows: [], problems: [] };
  const csv = openCsv(bytes);
  if ('code' in csv) {
    table.problems.push(csvFileProblem(file, csv));
    return table;
  }
  const places = Object.fromEntries(COLUMNS.map((name) => [name, csv.columns.indexOf(name)])) as Record<Column, number>;
  for (const needed of ['batch', 'source'] as const) {
    if (places[needed] >= 0) continue;
    const found = `columns ${csv.columns.join(', ')}`;
    table.problems.push(fileProblem(file, 'column-missing', found, { row: csv.headerRow, column: needed }));
  }
  if (table.problems.length > 0) return table;
  const malformed = eachRow(csv, makeReader(csv, table, places, codes), MOST_PROBLEMS);
  table.problems.push(...malformed.map((problem) => csvFileProblem(file, problem)));
  return table;
}

function makeReader(csv: Csv, table: SemenTable, places: Record<Column, number>, codes: Codes): (row: CsvRow) => void {
  const queens = { codes: codes.queens, buffer: addBuffer(codes.queens, csv.bytes) };
  const batches = { codes: codes.batches, buffer: addBuffer(codes.batches, csv.bytes) };
  const positive = (
    row: CsvRow,
    column: 'share' | 'drones',
    code: 'share-not-a-number' | 'source-drones-not-a-number',
  ) => {
    const value = places[column] < 0 ? null : fieldNumber(csv, row, places[column]);
    if (value === null || value > 0) return value;
    wrong(row, column, code);
    return null;
  };
  const wrong = (row: CsvRow, column: Column, code: Parameters<typeof fileProblem>[1]) => {
    if (table.problems.length >= MOST_PROBLEMS) return;
    const found = fieldText(csv, row, places[column]);
    table.problems.push(
      fileProblem(table.file, code, found === '' ? 'nothing' : `"${found}"`, { row: row.number, column }),
    );
  };
  return (row) => {
    const batch = internCode(csv, row, places.batch, batches);
    if (batch === NONE) return wrong(row, 'batch', 'code-missing');
    const asQueen = internCode(csv, row, places.source, queens);
    if (asQueen === NONE) return wrong(row, 'source', 'code-missing');
    table.rows.push({
      batch,
      asQueen,
      asBatch: internCode(csv, row, places.source, batches),
      source: fieldText(csv, row, places.source),
      share: positive(row, 'share', 'share-not-a-number'),
      drones: positive(row, 'drones', 'source-drones-not-a-number'),
      row: row.number,
    });
  };
}
