/**
 * Tables of separated values, read from bytes without cutting them into strings (RFC 4180 with these liberties: the separator is
 * `,` `;` or tab, whichever the header line holds most of; line ends are CRLF, LF or CR; a byte-order mark and lines
 * that hold nothing but spaces are passed over). A field that begins with a quotation mark runs to its closing one; two inside mean one.
 *
 * ```ts
 * const csv = openCsv(bytes);
 * if (!('code' in csv)) eachRow(csv, (row) => console.log(row.number, fieldText(csv, row, 0)));
 * ```
 */

import { decodeUtf8, firstInvalidUtf8 } from '#units/utf8.ts';
import { parseDecimal } from './parse-decimal.ts';

const QUOTE = 0x22;
const LF = 0x0a;
const CR = 0x0d;
const SEPARATORS = [0x09, 0x3b, 0x2c];

/** A table whose header has been read. */
export type Csv = {
  readonly bytes: Uint8Array;
  /** Character code of the separator. */
  readonly separator: number;
  /** Whether `2,5` means two and a half: true where the separator is not a comma. */
  readonly decimalComma: boolean;
  /** Names in the header, trimmed. */
  readonly columns: readonly string[];
  /** Offset of the first byte after the header line. */
  readonly body: number;
  /** Row number of the header (1 unless blank lines stand before it). */
  readonly headerRow: number;
};

/** One row while it is visited; the arrays are reused for the next row. */
export type CsvRow = {
  /** Counted as a spreadsheet does: the header is row 1, blank lines count. */
  number: number;
  /** Where the text of each column begins and ends, inside its quotation marks. */
  readonly start: Int32Array;
  readonly end: Int32Array;
  /** 1 where the text holds doubled quotation marks. */
  readonly doubled: Uint8Array;
};

/**
 * What is wrong with the form of a table. `row` as in {@link CsvRow}; `column` is a name of the header, or the place, counted from 1, of one without.
 * `found` and `expected` are counts of fields for `row-length`; otherwise `found` is a text and `expected` empty.
 */
export type CsvProblem = {
  code: 'empty' | 'not-utf8' | 'row-length' | 'open-quote' | 'text-after-quote' | 'column-twice' | 'column-nameless';
  row: number;
  column: string | null;
  found: string;
  expected: string;
};

type Cursor = { at: number; fields: number; problem: CsvProblem['code'] | null };

const problem = (code: CsvProblem['code'], row: number, found: string, expected = ''): CsvProblem => ({
  code,
  row,
  column: null,
  found,
  expected,
});

/** The separator the first line holds most of outside quotation marks; a comma when it holds none. */
function separatorOf(bytes: Uint8Array, from: number): number {
  const counts = [0, 0, 0];
  let quoted = false;
  for (let at = from; at < bytes.length; at++) {
    const byte = bytes[at] ?? 0;
    if (byte === QUOTE) quoted = !quoted;
    if (quoted) continue;
    if (byte === LF || byte === CR) break;
    const which = SEPARATORS.indexOf(byte);
    if (which >= 0) counts[which] = (counts[which] ?? 0) + 1;
  }
  const most = Math.max(...counts);
  return most === 0 ? 0x2c : (SEPARATORS[counts.indexOf(most)] ?? 0x2c);
}

/** Passes over line ends (and lines of spaces) from `at`; answers the next offset and how many lines were blank. */
function passBlankLines(bytes: Uint8Array, from: number): { at: number; blank: number } {
  let at = from;
  let blank = 0;
  for (let ahead = at; ahead < bytes.length; ) {
    const byte = bytes[ahead] ?? 0;
    if (byte === 0x20) {
      ahead++;
    } else if (byte === LF || byte === CR) {
      ahead += byte === CR && bytes[ahead + 1] === LF ? 2 : 1;
      at = ahead;
      blank++;
    } else return { at, blank };
  }
  return { at: bytes.length, blank };
}

/** Reads the quoted field whose opening mark stands at `cursor.at`; leaves the cursor on the separator or line end after it. */
function readQuoted(bytes: Uint8Array, cursor: Cursor, row: CsvRow, separator: number): void {
  const field = cursor.fields;
  const n = bytes.length;
  let at = cursor.at + 1;
  let doubled = 0;
  row.start[field] = at;
  for (; at < n; at++) {
    if (bytes[at] !== QUOTE) continue;
    if (bytes[at + 1] !== QUOTE) break;
    doubled = 1;
    at++;
  }
  if (at >= n) cursor.problem = 'open-quote';
  row.end[field] = Math.min(at, n);
  row.doubled[field] = doubled;
  at++;
  while (at < n && bytes[at] === 0x20 && separator !== 0x20) at++;
  const next = bytes[at];
  if (at < n && next !== separator && next !== LF && next !== CR) cursor.problem ??= 'text-after-quote';
  while (at < n && bytes[at] !== separator && bytes[at] !== LF && bytes[at] !== CR) at++;
  cursor.at = at;
}

/** Reads one row into `row`; the cursor ends after its line end. Fields beyond the width are counted, not kept. */
function readRow(bytes: Uint8Array, cursor: Cursor, row: CsvRow, separator: number): void {
  const n = bytes.length;
  const width = row.start.length - 1;
  cursor.fields = 0;
  cursor.problem = null;
  let count = 0;
  let at = cursor.at;
  for (;;) {
    const field = Math.min(count, width);
    if (at < n && bytes[at] === QUOTE) {
      cursor.at = at;
      cursor.fields = field;
      readQuoted(bytes, cursor, row, separator);
      at = cursor.at;
    } else {
      row.start[field] = at;
      let byte = at < n ? (bytes[at] as number) : LF;
      while (byte !== separator && byte !== LF && byte !== CR) byte = ++at < n ? (bytes[at] as number) : LF;
      row.end[field] = at;
      row.doubled[field] = 0;
    }
    count++;
    if (at >= n || bytes[at] !== separator) break;
    at++;
  }
  if (at < n) at += bytes[at] === CR && bytes[at + 1] === LF ? 2 : 1;
  cursor.at = at;
  cursor.fields = count;
}

const emptyRow = (width: number): CsvRow => ({
  number: 0,
  start: new Int32Array(width + 1),
  end: new Int32Array(width + 1),
  doubled: new Uint8Array(width + 1),
});

/** The text of a span; surrounding white space is trimmed, doubled quotation marks become one. */
function spanText(bytes: Uint8Array, row: CsvRow, column: number): string {
  const text = decodeUtf8(bytes, row.start[column] ?? 0, row.end[column] ?? 0);
  return (row.doubled[column] === 1 ? text.replaceAll('""', '"') : text).trim();
}

/**
 * Reads the header of a table. Answers the problem instead when the file is empty, is not UTF-8, has quotation marks in its header that do not close,
 * names a column twice, or leaves one without name. Up to 4096 columns. One pass over the bytes, to see that they are UTF-8.
 * @param bytes the whole file; kept, not copied
 * @example openCsv(new TextEncoder().encode('a;b\n1,5;2\n')) // { columns: ['a', 'b'], decimalComma: true, headerRow: 1 }
 */
export function openCsv(bytes: Uint8Array): Csv | CsvProblem {
  const invalid = firstInvalidUtf8(bytes);
  if (invalid >= 0) return problem('not-utf8', rowAt(bytes, invalid), `byte ${bytes[invalid]} at offset ${invalid}`);
  const mark = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
  const { at, blank } = passBlankLines(bytes, mark);
  if (at >= bytes.length) return problem('empty', 1, 'no header line');
  const separator = separatorOf(bytes, at);
  const row = emptyRow(MOST_COLUMNS);
  const cursor: Cursor = { at, fields: 0, problem: null };
  readRow(bytes, cursor, row, separator);
  if (cursor.problem)
    return problem(cursor.problem, blank + 1, spanText(bytes, row, Math.min(cursor.fields, MOST_COLUMNS) - 1));
  const columns = Array.from({ length: Math.min(cursor.fields, MOST_COLUMNS) }, (_, c) => spanText(bytes, row, c));
  const wrong = headerProblem(columns, blank + 1);
  if (wrong) return wrong;
  return { bytes, separator, decimalComma: separator !== 0x2c, columns, body: cursor.at, headerRow: blank + 1 };
}

const MOST_COLUMNS = 4096;

function headerProblem(columns: readonly string[], row: number): CsvProblem | null {
  const seen = new Set<string>();
  for (const [c, name] of columns.entries()) {
    if (name === '')
      return { ...problem('column-nameless', row, `column ${c + 1} has no name`), column: String(c + 1) };
    if (seen.has(name)) return { ...problem('column-twice', row, name), column: name };
    seen.add(name);
  }
  return null;
}

/** Row number of a byte offset, by counting line ends (used only to name the place of a bad byte). */
function rowAt(bytes: Uint8Array, offset: number): number {
  let row = 1;
  for (let at = 0; at < offset; at++) {
    if (bytes[at] === LF || (bytes[at] === CR && bytes[at + 1] !== LF)) row++;
  }
  return row;
}

/**
 * Visits every row after the header, in order. Rows with another number of fields than the header, and rows whose quotation
 * marks do not close, are not visited; they are answered as problems (at most `most`, then reading stops).
 * @param visit gets a row object that is reused: copy what must outlive the call
 * @example const rows = []; eachRow(openCsv(new TextEncoder().encode('a,b\n1,2\n\n3,4\n')), (row) => rows.push(row.number)); rows // [2, 4]
 */
export function eachRow(csv: Csv, visit: (row: CsvRow) => void, most = 1000): CsvProblem[] {
  const { bytes, separator, columns } = csv;
  const row = emptyRow(columns.length);
  const cursor: Cursor = { at: csv.body, fields: 0, problem: null };
  const problems: CsvProblem[] = [];
  let number = csv.headerRow;
  while (cursor.at < bytes.length && problems.length < most) {
    const first = bytes[cursor.at];
    if (first === LF || first === CR || first === 0x20) {
      const { at, blank } = passBlankLines(bytes, cursor.at);
      number += blank;
      cursor.at = at;
      if (at >= bytes.length) break;
    }
    number++;
    row.number = number;
    readRow(bytes, cursor, row, separator);
    if (cursor.problem) problems.push(problem(cursor.problem, number, spanText(bytes, row, lastKept(cursor, columns))));
    else if (cursor.fields !== columns.length) {
      problems.push(problem('row-length', number, String(cursor.fields), String(columns.length)));
    } else visit(row);
  }
  return problems;
}

const lastKept = (cursor: Cursor, columns: readonly string[]) => Math.min(cursor.fields, columns.length) - 1;

/**
 * The trimmed text of a field, doubled quotation marks made one; `column` counts from 0.
 * @example const csv = openCsv(new TextEncoder().encode('a,b\n1," x ""y"""\n')); const texts = [];
 * eachRow(csv, (row) => texts.push(fieldText(csv, row, 1))); texts // ['x "y"']
 */
export function fieldText(csv: Csv, row: CsvRow, column: number): string {
  return spanText(csv.bytes, row, column);
}

/**
 * Whether a field holds nothing but white space.
 * @example const csv = openCsv(new TextEncoder().encode('a,b\n1, \n')); const empty = [];
 * eachRow(csv, (row) => empty.push(fieldEmpty(csv, row, 0), fieldEmpty(csv, row, 1))); empty // [false, true]
 */
export function fieldEmpty(csv: Csv, row: CsvRow, column: number): boolean {
  const end = row.end[column] ?? 0;
  const start = row.start[column] ?? 0;
  if (start === end) return true;
  const first = csv.bytes[start] ?? 0;
  if (first > 0x20 && first < 0x80) return false;
  return spanText(csv.bytes, row, column) === '';
}

/**
 * The number in a field: `null` when it is empty, `NaN` when it holds something that is not a number.
 * Up to 15 digits without exponent are read straight from the bytes (exact, because both 10^k, k ≤ 15, and the digits are doubles).
 * @example const csv = openCsv(new TextEncoder().encode('a,b,c\n1.5,,x\n')); const numbers = [];
 * eachRow(csv, (row) => numbers.push(fieldNumber(csv, row, 0), fieldNumber(csv, row, 1), fieldNumber(csv, row, 2))); numbers // [1.5, null, NaN]
 */
export function fieldNumber(csv: Csv, row: CsvRow, column: number): number | null {
  const quick = plainNumber(csv, row.start[column] ?? 0, row.end[column] ?? 0);
  if (!Number.isNaN(quick)) return quick;
  const text = fieldText(csv, row, column);
  if (text === '') return null;
  return parseDecimal(text, csv.decimalComma) ?? Number.NaN;
}

const POWERS = [1, 10, 100, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15];

function plainNumber(csv: Csv, start: number, end: number): number {
  const { bytes } = csv;
  let at = start;
  const negative = bytes[at] === 0x2d && at < end;
  if (negative) at++;
  if (at >= end || end - at > 16) return Number.NaN;
  let digits = 0;
  let seen = 0;
  let decimals = -1;
  for (; at < end; at++) {
    const byte = bytes[at] as number;
    if (byte >= 0x30 && byte <= 0x39) {
      digits = digits * 10 + (byte - 0x30);
      seen++;
      if (decimals >= 0) decimals++;
    } else if (decimals < 0 && (byte === 0x2e || (byte === 0x2c && csv.decimalComma))) decimals = 0;
    else return Number.NaN;
  }
  if (seen === 0 || seen > 15) return Number.NaN;
  const value = decimals > 0 ? digits / (POWERS[decimals] ?? 1) : digits;
  return negative ? -value : value;
}

/**
 * Every row as trimmed texts, one a column of the header: for small tables and for import. Problems as in {@link eachRow}.
 * @example readRows(openCsv(new TextEncoder().encode('a,b\n1,2\n3\n'))).problems // [{ code: 'row-length', row: 3, found: '1', expected: '2' }]
 */
export function readRows(csv: Csv): { rows: { number: number; texts: string[] }[]; problems: CsvProblem[] } {
  const rows: { number: number; texts: string[] }[] = [];
  const problems = eachRow(csv, (row) => {
    rows.push({ number: row.number, texts: csv.columns.map((_, c) => fieldText(csv, row, c)) });
  });
  return { rows, problems };
}

/** One line of a table that may have any number of fields, as trimmed texts. */
export type LooseRow = { number: number; texts: string[]; problem: 'open-quote' | 'text-after-quote' | null };

/** What a loose reading is held to: the character code of the separator, and how many fields of a line are kept. */
export type LooseOptions = { separator: number; mostColumns: number };

/**
 * Visits every line that holds anything, the first included, whatever number of fields it has: for tables made by hand. Fields
 * beyond `mostColumns` are not kept, but counted in `fields`. The visit may answer `false` to stop.
 * @example const [lines, file] = [[], new TextEncoder().encode('a,b\n1\n')];
 * eachLooseRow(file, { separator: 44, mostColumns: 1 }, (row, fields) => lines.push([row.texts[0], fields]) > 0);
 * lines // [['a', 2], ['1', 1]]
 */
export function eachLooseRow(
  bytes: Uint8Array,
  { separator, mostColumns }: LooseOptions,
  visit: (row: LooseRow, fields: number) => boolean,
): void {
  const row = emptyRow(mostColumns);
  const mark = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
  const cursor: Cursor = { at: mark, fields: 0, problem: null };
  for (let number = 1; ; number++) {
    const { at, blank } = passBlankLines(bytes, cursor.at);
    number += blank;
    if (at >= bytes.length) return;
    cursor.at = at;
    readRow(bytes, cursor, row, separator);
    const kept = Math.min(cursor.fields, mostColumns);
    const texts = Array.from({ length: kept }, (_, c) => spanText(bytes, row, c));
    const problem = cursor.problem === 'open-quote' || cursor.problem === 'text-after-quote' ? cursor.problem : null;
    if (!visit({ number, texts, problem }, cursor.fields)) return;
  }
}

/**
 * Character code of the separator (`,` `;` tab) a line holds most of outside quotation marks, beginning at an offset; `null` when it holds none.
 * @example separatorIn(new TextEncoder().encode('a;b,c;d\n'), 0) === ';'.charCodeAt(0) // true
 */
export function separatorIn(bytes: Uint8Array, from: number): number | null {
  const found = separatorOf(bytes, from);
  let at = from;
  while (at < bytes.length && bytes[at] !== LF && bytes[at] !== CR) if (bytes[at++] === found) return found;
  return null;
}
