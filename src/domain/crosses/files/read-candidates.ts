/**
 * CANDIDATES.csv, `queen,merit,as_dam_max,as_drone_mother_max`. The limits are shares of the cohort (0-1); where any of them is above 1 they are
 * numbers of queens. Empty = no limit, 0 = not used so.
 */
import { openCsv, readRows } from '#numeric/csv/csv.ts';
import { parseDecimal } from '#numeric/csv/parse-decimal.ts';
import { csvFileProblem, type FileProblem, fileProblem } from '../../pedigree/files/file-problem.ts';
import type { NamedBytes } from '../../pedigree/files/read-pedigree.ts';
import { NONE, type Stock } from '../../pedigree/stock.ts';
import type { Candidate } from '../contributions.ts';

/** `most*` are numbers of queens, Infinity = no limit. */
export type ReadCandidate = Candidate & { mostAsDam: number; mostAsDroneMother: number };
export type ReadCandidates =
  | { candidates: ReadCandidate[]; problems: [] }
  | { candidates: null; problems: FileProblem[] };

type Row = { row: number; queen: string; merit: number; dam: number; droneMother: number };

/** Reads candidates for a cohort of `queens` queens. The merit of a queen counts half through daughters and half through drones. */
export function readCandidates(file: NamedBytes, stock: Stock, queens: number): ReadCandidates {
  const csv = openCsv(file.bytes);
  if ('code' in csv) return { candidates: null, problems: [csvFileProblem(file.name, csv)] };
  const missing = ['queen', 'merit'].filter((name) => !csv.columns.includes(name));
  if (missing.length > 0) {
    const found = `columns ${csv.columns.join(', ')}`;
    return {
      candidates: null,
      problems: missing.map((column) =>
        fileProblem(file.name, 'column-missing', found, { row: csv.headerRow, column }),
      ),
    };
  }
  const { rows, problems: form } = readRows(csv);
  const problems = form.map((problem) => csvFileProblem(file.name, problem));
  const seen = new Set<string>();
  const read = rows.map(({ number, texts }): Row => {
    const cell = (column: string) => texts[csv.columns.indexOf(column)] ?? '';
    const wrong = (column: string, expected: string, remedy: string) =>
      problems.push({
        file: file.name,
        row: number,
        column,
        code: 'candidate',
        found: cell(column) === '' ? 'nothing' : `"${cell(column)}"`,
        expected,
        remedy,
      });
    const limit = (column: string): number => {
      if (cell(column) === '') return Number.POSITIVE_INFINITY;
      const value = parseDecimal(cell(column), csv.decimalComma);
      if (value === null || value < 0) wrong(column, 'a share, a number of queens, or nothing', 'correct the limit');
      return value ?? 0;
    };
    const queen = cell('queen');
    if (stock.names.queenIndex(queen) === NONE)
      wrong('queen', 'a queen with a row in the queens file', 'add a row for her or correct the code');
    else if (seen.has(queen)) wrong('queen', 'each queen once', 'take one of the rows out');
    seen.add(queen);
    const merit = parseDecimal(cell('merit'), csv.decimalComma);
    if (merit === null) wrong('merit', 'a number', 'give her merit or take the row out');
    return {
      row: number,
      queen,
      merit: merit ?? 0,
      dam: limit('as_dam_max'),
      droneMother: limit('as_drone_mother_max'),
    };
  });
  if (problems.length === 0 && read.length === 0) problems.push(fileProblem(file.name, 'no-rows', 'no rows'));
  if (problems.length > 0) return { candidates: null, problems };
  return { candidates: withLimits(read, queens), problems: [] };
}

function withLimits(rows: readonly Row[], queens: number): ReadCandidate[] {
  const inQueens = rows.some(({ dam, droneMother }) =>
    [dam, droneMother].some((limit) => limit > 1 && Number.isFinite(limit)),
  );
  const share = (limit: number) => (Number.isFinite(limit) ? (inQueens ? limit / queens : limit) : 1);
  const number = (limit: number) =>
    inQueens ? limit : limit >= 1 ? Number.POSITIVE_INFINITY : Math.ceil(limit * queens - 1e-9);
  return rows.map(({ queen, merit, dam, droneMother }) => ({
    queen,
    dam: { merit: merit / 2, most: share(dam) },
    droneMother: { merit: merit / 2, most: share(droneMother) },
    mostAsDam: number(dam),
    mostAsDroneMother: number(droneMother),
  }));
}
