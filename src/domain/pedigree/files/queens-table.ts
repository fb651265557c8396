/**
 * QUEENS.csv, `queen,dam,born,mated_to,drones,semen,sisters`: read into columns of numbers, codes still as dictionary numbers
 * because rows stand in any order. What a code means is settled in read-pedigree.ts.
 */
import { addBuffer, type ByteDictionary, intern, internText } from '#numeric/csv/byte-dictionary.ts';
import { type Csv, type CsvRow, eachRow, fieldEmpty, fieldNumber, fieldText, openCsv } from '#numeric/csv/csv.ts';
import { type Growing, growingInts, growingNumbers, pushInt, pushNumber } from '#numeric/csv/growing.ts';
import { dayNumber, dayOfBytes } from '../day-number.ts';
import { NO_DAY, NONE } from '../stock.ts';
import { csvFileProblem, type FileProblem, fileProblem } from './file-problem.ts';

/** Codes of queens and of batches, numbered as they are met; `open` is queen code 0. */
export type Codes = { queens: ByteDictionary; batches: ByteDictionary };

/** Number of the code `open`, unrelated drones, among the queens' codes. */
export const OPEN_CODE = 0;

/** Rows of the table as columns; a mating is a code number, or text to be read when all codes are known. */
export type QueensTable = {
  file: string;
  decimalComma: boolean;
  queen: Growing<Int32Array>;
  dam: Growing<Int32Array>;
  born: Growing<Int32Array>;
  /** Code number of the one drone mother; NONE when there is none or several. */
  matedTo: Growing<Int32Array>;
  /** Mating texts of more than one code, by row index. */
  matedText: Map<number, string>;
  batch: Growing<Int32Array>;
  /** Drones written, NaN when not. */
  drones: Growing<Float64Array>;
  /** Groups by row index; every other row is one queen. */
  sisters: Map<number, number>;
  /** Row number in the file of each row index. */
  row: Growing<Int32Array>;
  problems: FileProblem[];
};

const COLUMNS = ['queen', 'dam', 'born', 'mated_to', 'drones', 'semen', 'sisters'] as const;
type Column = (typeof COLUMNS)[number];
type Places = Record<Column, number>;

/** Most problems collected from one file; more would not be read anyway. */
export const MOST_PROBLEMS = 1000;

/**
 * Reads the table, one pass. Problems (up to {@link MOST_PROBLEMS}) are collected in it; a row with one may be missing from the columns. Nothing is
 * thrown for what a file holds.
 * @example const codes = { queens: makeDictionary(), batches: makeDictionary() }; internText(codes.queens, 'open');
 * filledInts(readQueensTable('QUEENS.csv', new TextEncoder().encode('queen,dam\nA,\nB,A\n'), codes).dam) // [NONE, 1]
 */
export function readQueensTable(file: string, bytes: Uint8Array, codes: Codes): QueensTable {
  const csv = openCsv(bytes);
  const table = emptyTable(file, bytes.length);
  if ('code' in csv) {
    table.problems.push(csvFileProblem(file, csv));
    return table;
  }
  table.decimalComma = csv.decimalComma;
  const places = Object.fromEntries(COLUMNS.map((name) => [name, csv.columns.indexOf(name)])) as Places;
  if (places.queen < 0) {
    const found = `columns ${csv.columns.join(', ')}`;
    table.problems.push(fileProblem(file, 'column-missing', found, { row: csv.headerRow, column: 'queen' }));
    return table;
  }
  const reader = makeReader(csv, table, places, codes);
  const malformed = eachRow(csv, reader, MOST_PROBLEMS);
  table.problems.push(...malformed.map((problem) => csvFileProblem(file, problem)));
  return table;
}

function emptyTable(file: string, length: number): QueensTable {
  const room = Math.ceil(length / 40) + 16;
  return {
    file,
    decimalComma: false,
    queen: growingInts(room),
    dam: growingInts(room),
    born: growingInts(room),
    matedTo: growingInts(room),
    matedText: new Map(),
    batch: growingInts(room),
    drones: growingNumbers(room),
    sisters: new Map(),
    row: growingInts(room),
    problems: [],
  };
}

/** Whether a span holds any of `:` `;` `|`, so that it may be more than one code. */
function isCompound(bytes: Uint8Array, start: number, end: number): boolean {
  for (let at = start; at < end; at++) {
    const byte = bytes[at];
    if (byte === 0x3a || byte === 0x3b || byte === 0x7c) return true;
  }
  return false;
}

/**
 * The number of a code in a field, NONE when it is empty; fields that are not plain bytes go through their text.
 * A code is told by its bytes; where a field was quoted with doubled marks or has other letters at its ends, by its trimmed text.
 * @example const codes = makeDictionary(); const csv = openCsv(new TextEncoder().encode('queen,dam\nB,A\nC,\n'));
 * const dams = []; const into = { codes, buffer: addBuffer(codes, csv.bytes) };
 * eachRow(csv, (row) => dams.push(internCode(csv, row, 1, into))); dams // [0, NONE]
 */
export function internCode(
  csv: Csv,
  row: CsvRow,
  column: number,
  into: { codes: ByteDictionary; buffer: number },
): number {
  const start = row.start[column] as number;
  const end = row.end[column] as number;
  if (start === end) return NONE;
  const plain =
    row.doubled[column] === 0 && (csv.bytes[start] as number) < 0x80 && (csv.bytes[end - 1] as number) < 0x80;
  return plain ? intern(into.codes, into.buffer, start, end) : internText(into.codes, fieldText(csv, row, column));
}

function makeReader(csv: Csv, table: QueensTable, places: Places, codes: Codes): (row: CsvRow) => void {
  const queens = { codes: codes.queens, buffer: addBuffer(codes.queens, csv.bytes) };
  const batches = { codes: codes.batches, buffer: addBuffer(codes.batches, csv.bytes) };
  const codeAt = (row: CsvRow, column: number, into: typeof queens) =>
    column < 0 ? NONE : internCode(csv, row, column, into);
  const wrong = (row: CsvRow, column: Column, code: Parameters<typeof fileProblem>[1]) => {
    if (table.problems.length >= MOST_PROBLEMS) return;
    const found = fieldText(csv, row, places[column]);
    table.problems.push(
      fileProblem(table.file, code, found === '' ? 'nothing' : `"${found}"`, { row: row.number, column }),
    );
  };
  const readBorn = (row: CsvRow): number => {
    if (places.born < 0 || fieldEmpty(csv, row, places.born)) return NO_DAY;
    const start = row.start[places.born] as number;
    const end = row.end[places.born] as number;
    const born = dayOfBytes(csv.bytes, start, end) ?? dayNumber(fieldText(csv, row, places.born));
    if (born === null) wrong(row, 'born', 'day-not-a-day');
    return born ?? NO_DAY;
  };
  const readDrones = (row: CsvRow): number => {
    const drones = places.drones < 0 ? null : fieldNumber(csv, row, places.drones);
    if (drones === null) return Number.NaN;
    if (!(drones >= 1)) wrong(row, 'drones', 'drones-not-a-number');
    return drones;
  };
  const readSisters = (row: CsvRow, index: number): void => {
    const sisters = places.sisters < 0 ? null : fieldNumber(csv, row, places.sisters);
    if (sisters === null) return;
    if (!Number.isInteger(sisters) || sisters < 1 || sisters > 1e6) wrong(row, 'sisters', 'sisters-not-whole');
    else if (sisters > 1) table.sisters.set(index, sisters);
  };
  const readMatedTo = (row: CsvRow, index: number): number => {
    const column = places.mated_to;
    if (column < 0 || fieldEmpty(csv, row, column)) return NONE;
    if (!isCompound(csv.bytes, row.start[column] as number, row.end[column] as number))
      return codeAt(row, column, queens);
    table.matedText.set(index, fieldText(csv, row, column));
    return NONE;
  };
  return (row) => {
    const queen = codeAt(row, places.queen, queens);
    if (queen === NONE) return wrong(row, 'queen', 'code-missing');
    if (queen === OPEN_CODE) return wrong(row, 'queen', 'code-reserved');
    const index = table.queen.size;
    const matedTo = readMatedTo(row, index);
    const batch = codeAt(row, places.semen, batches);
    if (batch !== NONE && (matedTo !== NONE || table.matedText.has(index))) wrong(row, 'semen', 'mating-twice');
    pushInt(table.queen, queen);
    pushInt(table.dam, codeAt(row, places.dam, queens));
    pushInt(table.born, readBorn(row));
    pushInt(table.matedTo, matedTo);
    pushInt(table.batch, batch);
    pushNumber(table.drones, readDrones(row));
    pushInt(table.row, row.number);
    readSisters(row, index);
  };
}
