/** Evidence files of the brood command: `queen,allele1,allele2` and `queen,viable,cells`. */
import { type Csv, openCsv, readRows } from '#numeric/csv/csv.ts';
import { parseDecimal } from '#numeric/csv/parse-decimal.ts';
import { csvFileProblem, type FileProblem } from '../../pedigree/files/file-problem.ts';
import type { NamedBytes } from '../../pedigree/files/read-pedigree.ts';
import type { Evidence } from '../evidence.ts';

type Row = { number: number; cells: Record<string, string> };
type Rows = { rows: Row[]; decimalComma: boolean } | { problems: FileProblem[] };

/** The rows of a table that must have certain columns, as texts by column. */
function rowsWith(file: NamedBytes, columns: readonly string[]): Rows {
  const csv = openCsv(file.bytes);
  if ('code' in csv) return { problems: [csvFileProblem(file.name, csv)] };
  const missing = columns.filter((column) => !csv.columns.includes(column));
  if (missing.length > 0) return { problems: missing.map((column) => missingColumn(file.name, csv, column)) };
  const { rows, problems } = readRows(csv);
  if (problems.length > 0) return { problems: problems.map((problem) => csvFileProblem(file.name, problem)) };
  const cellsOf = (texts: readonly string[]) =>
    Object.fromEntries(csv.columns.map((name, c) => [name, texts[c] ?? '']));
  return { rows: rows.map(({ number, texts }) => ({ number, cells: cellsOf(texts) })), decimalComma: csv.decimalComma };
}

const missingColumn = (file: string, csv: Csv, column: string): FileProblem => ({
  file,
  row: csv.headerRow,
  column,
  code: 'column-missing',
  found: `columns ${csv.columns.join(', ')}`,
  expected: `a header with ${column}`,
  remedy: 'add the column, or check the separator of the header line',
});

export type ReadAlleles = { alleles: Evidence['alleles']; rows: number[] } | { problems: FileProblem[] };
export type ReadCounts = { counts: Evidence['counts']; rows: number[] } | { problems: FileProblem[] };

/** Allele labels of typed queens; `rows` gives the row each stands in. Two different labels are needed. */
export function readAlleles(file: NamedBytes): ReadAlleles {
  const read = rowsWith(file, ['queen', 'allele1', 'allele2']);
  if ('problems' in read) return read;
  const problems = read.rows.flatMap(({ number, cells }) =>
    ['queen', 'allele1', 'allele2']
      .filter((column) => cells[column] === '')
      .map(
        (column): FileProblem => ({
          file: file.name,
          row: number,
          column,
          code: 'code-missing',
          found: 'nothing',
          expected: column === 'queen' ? 'a code' : 'a label, the same for the same allele',
          remedy: 'fill it in or take the row out',
        }),
      ),
  );
  if (problems.length > 0) return { problems };
  const alleles = read.rows.map(({ cells }) => ({
    queen: cells.queen ?? '',
    alleles: [cells.allele1 ?? '', cells.allele2 ?? ''] as const,
  }));
  return { alleles, rows: read.rows.map((row) => row.number) };
}

/** Brood counts; `rows` gives the row each stands in. */
export function readCounts(file: NamedBytes): ReadCounts {
  const read = rowsWith(file, ['queen', 'viable', 'cells']);
  if ('problems' in read) return read;
  const problems: FileProblem[] = [];
  const whole = (row: Row, column: string): number => {
    const value = parseDecimal(row.cells[column] ?? '', read.decimalComma);
    if (value !== null && Number.isInteger(value) && value >= 0) return value;
    const found = row.cells[column] === '' ? 'nothing' : `"${row.cells[column]}"`;
    const place = { file: file.name, row: row.number, column };
    problems.push({
      ...place,
      code: 'count-not-whole',
      found,
      expected: 'a whole number of cells',
      remedy: 'correct the count',
    });
    return 0;
  };
  const counts = read.rows.map((row) => ({
    queen: row.cells.queen ?? '',
    viable: whole(row, 'viable'),
    cells: whole(row, 'cells'),
  }));
  return problems.length > 0 ? { problems } : { counts, rows: read.rows.map((row) => row.number) };
}
