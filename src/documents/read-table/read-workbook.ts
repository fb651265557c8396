import { readXlsx } from 'hucre/xlsx';
import { type Cell, type RawTable, type TableProblem, type TableRow, tableLimits } from '#domain/stock-book/table.ts';
import type { Day } from '#units/calendar-day.ts';
import { BadZip, readZip } from '../zip/read-zip.ts';
import { withoutGuard } from './read-text.ts';

type Sheet = Awaited<ReturnType<typeof readXlsx>>['sheets'][number];
type CellValue = Sheet['rows'][number][number];

const problem = (
  code: TableProblem['code'],
  values: TableProblem['values'] = {},
  row: number | null = null,
): TableProblem => ({
  code,
  row,
  values,
});

/** A day a spreadsheet keeps is a calendar day: its time of day, and the zone of this machine, are no part of it. */
const dayOfDate = (date: Date): Day => date.toISOString().slice(0, 10) as Day;

function cellOf(value: CellValue | undefined): Cell {
  if (value === null || value === undefined) return '';
  if (typeof value === 'number') return value;
  if (value instanceof Date) return Number.isNaN(value.getTime()) ? '' : { day: dayOfDate(value) };
  return withoutGuard(String(value).trim());
}

function rowsOf(sheet: Sheet): TableRow[] | TableProblem {
  const rows: TableRow[] = [];
  for (const [i, values] of sheet.rows.entries()) {
    const cells = values.map(cellOf);
    while (cells.length > 0 && cells.at(-1) === '') cells.pop();
    if (cells.length === 0) continue;
    if (cells.length > tableLimits.columns)
      return problem('too-many-columns', { found: cells.length, most: tableLimits.columns }, i + 1);
    const long = cells.find((cell) => typeof cell === 'string' && cell.length > tableLimits.cellLetters);
    if (typeof long === 'string')
      return problem('cell-too-long', { found: long.length, most: tableLimits.cellLetters }, i + 1);
    if (rows.length >= tableLimits.rows) return problem('too-many-rows', { most: tableLimits.rows }, i + 1);
    rows.push({ number: i + 1, cells });
  }
  return rows;
}

/** The zip is walked first, with entries, names and sizes capped: the spreadsheet library would unpack whatever it is given. */
function unsafe(bytes: Uint8Array): TableProblem | null {
  try {
    readZip(bytes);
    return null;
  } catch (error) {
    if (!(error instanceof BadZip)) throw error;
    if (error.code === 'encrypted') return problem('workbook-locked');
    const broken = error.code === 'broken' || error.code === 'not-a-zip';
    return problem(broken ? 'workbook-broken' : 'workbook-unsafe', { found: `${error.code}: ${error.found}` });
  }
}

/** Reads one sheet of an XLSX workbook (ISO/IEC 29500) as a table: the one named, else the first that holds anything. */
export async function readWorkbook(bytes: Uint8Array, wanted?: string): Promise<RawTable | TableProblem> {
  const found = unsafe(bytes);
  if (found !== null) return found;
  const sheets: string[] = [];
  let workbook: Awaited<ReturnType<typeof readXlsx>>;
  try {
    workbook = await readXlsx(bytes, {
      maxRows: tableLimits.rows + 1,
      sheets: ({ name }) => {
        sheets.push(name);
        return wanted === undefined || name === wanted;
      },
    });
  } catch (error) {
    return problem('workbook-broken', { found: error instanceof Error ? error.message.slice(0, 200) : 'unreadable' });
  }
  if (wanted !== undefined && !sheets.includes(wanted)) return problem('no-such-sheet', { found: wanted });
  for (const sheet of workbook.sheets) {
    const rows = rowsOf(sheet);
    if (!Array.isArray(rows)) return rows;
    if (rows.length === 0) continue;
    const readAs = {
      form: 'workbook' as const,
      encoding: null,
      separator: null,
      decimalComma: true,
      sheets,
      sheet: sheet.name,
    };
    return { readAs, rows };
  }
  return problem('table-empty');
}
