import { type RawTable, type TableProblem, tableLimits } from '#domain/stock-book/table.ts';
import { readText, type TextOptions } from './read-text.ts';
import { readWorkbook } from './read-workbook.ts';

/** What a person may say about a file where the guess is wrong. */
export type TableOptions = TextOptions & { sheet?: string | undefined };

const begins = (bytes: Uint8Array, ...signature: number[]): boolean => signature.every((byte, i) => bytes[i] === byte);

/**
 * Reads a file a breeder keeps as a table: XLSX by its first bytes, else text of separated values. Nothing is understood yet; what
 * cannot be a table is named. `maximum` 200 MB, 1,000,000 rows, 500 columns, 32 KB a cell.
 */
export async function readTable(bytes: Uint8Array, options: TableOptions = {}): Promise<RawTable | TableProblem> {
  const { bytes: most } = tableLimits;
  if (bytes.length > most) return { code: 'table-too-large', row: null, values: { found: bytes.length, most } };
  if (bytes.length === 0) return { code: 'table-empty', row: null, values: {} };
  if (begins(bytes, 0x50, 0x4b, 0x03, 0x04) || begins(bytes, 0x50, 0x4b, 0x05, 0x06))
    return readWorkbook(bytes, options.sheet);
  // The compound file of spreadsheets before 2007, and of locked workbooks.
  if (begins(bytes, 0xd0, 0xcf, 0x11, 0xe0)) return { code: 'old-workbook', row: null, values: {} };
  return readText(bytes, options);
}
