import { type RawTable, type TableProblem, type TableRow, tableLimits } from '#domain/stock-book/table.ts';
import { eachLooseRow, separatorIn } from '#numeric/csv/csv.ts';
import { decodeText, type Encoding } from './decode.ts';

/** What a person may say about a text where the guess is wrong. */
export type TextOptions = { encoding?: Encoding | undefined; separator?: string | undefined };

const LF = 0x0a;
/** Lines looked at for a separator: a title may stand above the header. */
const FIRST_LINES = 12;

/** The separator of the first line that holds one: what stands above the header is a title. */
function guessSeparator(utf8: Uint8Array): number {
  let at = 0;
  for (let line = 0; line < FIRST_LINES && at < utf8.length; line++) {
    const found = separatorIn(utf8, at);
    if (found !== null) return found;
    const end = utf8.indexOf(LF, at);
    if (end < 0) break;
    at = end + 1;
  }
  return 0x09;
}

/** One apostrophe before = + - @ is how a text is kept from being run as a formula: it is no part of the text. */
export const withoutGuard = (text: string): string => (/^'[=+\-@\t\r]/.test(text) ? text.slice(1) : text);

const tooLong = (row: number, letters: number): TableProblem => ({
  code: 'cell-too-long',
  row,
  values: { found: letters, most: tableLimits.cellLetters },
});

/** Reads a text of separated values as a table; the whole file is refused where a quotation mark never closes. */
export function readText(bytes: Uint8Array, options: TextOptions = {}): RawTable | TableProblem {
  const decoded = decodeText(bytes, options.encoding);
  if ('code' in decoded) return decoded;
  const { utf8, encoding } = decoded;
  const separator = options.separator === undefined ? guessSeparator(utf8) : options.separator.charCodeAt(0);
  const rows: TableRow[] = [];
  let problem: TableProblem | null = null;
  eachLooseRow(utf8, { separator, mostColumns: tableLimits.columns }, ({ number, texts, problem: form }, fields) => {
    const long = texts.find((text) => text.length > tableLimits.cellLetters);
    if (fields > tableLimits.columns)
      problem = { code: 'too-many-columns', row: number, values: { found: fields, most: tableLimits.columns } };
    else if (rows.length >= tableLimits.rows)
      problem = { code: 'too-many-rows', row: number, values: { most: tableLimits.rows } };
    else if (form === 'open-quote')
      problem = { code: 'open-quote', row: number, values: { found: (texts.at(-1) ?? '').slice(0, 40) } };
    else if (long !== undefined) problem = tooLong(number, long.length);
    else if (texts.some((text) => text !== '')) rows.push({ number, cells: texts.map(withoutGuard) });
    return problem === null;
  });
  if (problem !== null) return problem;
  if (rows.length === 0) return { code: 'table-empty', row: null, values: {} };
  const decimalComma = separator !== 0x2c;
  return {
    readAs: {
      form: 'text',
      encoding,
      separator: String.fromCharCode(separator),
      decimalComma,
      sheets: [],
      sheet: null,
    },
    rows,
  };
}
