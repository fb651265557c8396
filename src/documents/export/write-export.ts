import { type BookTable, bookTables } from '#records/book-tables.ts';
import { csvLine } from './csv-text.ts';
import { bytesIndex, bytesPath, csvwMetadata, dataPackage, pathOf } from './describe-tables.ts';
import { exportReadme } from './readme.ts';

export type ExportFile = { name: string; bytes: Uint8Array };
type StoredRow = Readonly<Record<string, unknown>>;
type ReadBook = (take: (table: BookTable, rows: readonly StoredRow[]) => Promise<void>) => Promise<void>;

const encode = (text: string) => new TextEncoder().encode(text);

/**
 * Writes a whole book in open form: CSVs with their descriptions, photos, a readme.
 * @param readBook gives every table of the book, some rows at a time, in one snapshot
 * @param keep takes each finished file
 * @returns the tables with how many rows each holds
 */
export async function writeExport(
  readBook: ReadBook,
  { made, keep }: { made: string; keep: (file: ExportFile) => Promise<void> },
): Promise<{ name: string; rows: number }[]> {
  const texts = new Map<string, { lines: string[]; rows: number }>();
  const described = bookTables.map((table) => (table.name === 'bytes_kept' ? bytesIndex : table));
  for (const table of described)
    texts.set(table.name, { lines: [csvLine(table.columns.map(({ name }) => name)).replaceAll('"', '')], rows: 0 });
  await readBook(async (table, rows) => {
    const text = texts.get(table.name);
    const columns = described.find(({ name }) => name === table.name)?.columns ?? [];
    for (const row of rows) {
      if (table.name === 'bytes_kept')
        await keep({ name: bytesPath(String(row.hash)), bytes: new Uint8Array(row.bytes as Uint8Array) });
      text?.lines.push(csvLine(columns.map(({ name }) => row[name])));
    }
    if (text !== undefined) text.rows += rows.length;
  });
  const counts: { name: string; rows: number }[] = [];
  for (const table of described) {
    const { lines, rows } = texts.get(table.name) ?? { lines: [], rows: 0 };
    await keep({ name: pathOf(table), bytes: encode(lines.join('')) });
    counts.push({ name: pathOf(table), rows });
  }
  await keep({ name: 'datapackage.json', bytes: encode(`${JSON.stringify(dataPackage(described, made), null, 1)}\n`) });
  await keep({ name: 'csv-metadata.json', bytes: encode(`${JSON.stringify(csvwMetadata(described), null, 1)}\n`) });
  await keep({ name: 'readme.txt', bytes: encode(exportReadme.replaceAll('\n', '\r\n')) });
  return counts;
}
