/**
 * A stock from QUEENS.csv and SEMEN.csv, ready for {@link layPedigree}; and the whole way from bytes to a laid pedigree.
 *
 * ```ts
 * const read = readPedigree({ name: 'QUEENS.csv', bytes }, { name: 'SEMEN.csv', bytes: semen });
 * if (read.pedigree === null) for (const p of read.problems) console.error(p.file, p.row, p.column, p.found, p.expected, p.remedy);
 * ```
 */
import { internText, lookUp, makeDictionary, textOf } from '#numeric/csv/byte-dictionary.ts';
import type { Assumption } from '../assumption.ts';
import type { DescentProblem } from '../check-descent.ts';
import type { Pedigree } from '../laid-pedigree.ts';
import { layPedigree } from '../pedigree.ts';
import { NONE, type Stock } from '../stock.ts';
import { type FileProblem, fileProblem } from './file-problem.ts';
import { type Codes, MOST_PROBLEMS, type QueensTable, readQueensTable } from './queens-table.ts';
import { readSemenTable, type SemenTable } from './semen-table.ts';
import { settlePools } from './settle-pools.ts';

/** A file by the name its problems are told under. */
export type NamedBytes = { name: string; bytes: Uint8Array };

/** A stock and where it stands in its files, or the problems, sorted by file and row where codes do not fit. */
export type ReadStock = { stock: Stock; rows: StockRows; problems: [] } | { stock: null; problems: FileProblem[] };
/** A pedigree, or the problems. */
export type ReadPedigree = { pedigree: Pedigree; problems: [] } | { pedigree: null; problems: FileProblem[] };

/** Where each queen and pool stands in its file, to name the place of a later problem. */
export type StockRows = {
  file: string;
  queenRow(queen: number): number;
  poolPlace(pool: number): { file: string; row: number; column: string };
};

/**
 * Reads both tables into one stock, or answers every problem found (up to {@link MOST_PROBLEMS}; codes are looked at once the tables themselves are
 * right). A missing SEMEN.csv is an empty one.
 * @example readStock({ name: 'QUEENS.csv', bytes: new TextEncoder().encode('queen,dam\nA,\nB,A\n') }).stock.columns.dam // [NONE, 0]
 */
export function readStock(queens: NamedBytes, semen?: NamedBytes): ReadStock {
  const codes: Codes = { queens: makeDictionary(queens.bytes.length / 20), batches: makeDictionary() };
  internText(codes.queens, 'open');
  const table = readQueensTable(queens.name, queens.bytes, codes);
  const batches: SemenTable = semen
    ? readSemenTable(semen.name, semen.bytes, codes)
    : { file: 'the semen file', rows: [], problems: [] };
  const problems = [...table.problems, ...batches.problems];
  if (problems.length === 0 && table.queen.size === 0) problems.push(fileProblem(queens.name, 'no-rows', 'no rows'));
  if (problems.length > 0) return { stock: null, problems: problems.slice(0, MOST_PROBLEMS) };
  return settle(table, batches, codes);
}

function settle(table: QueensTable, batches: SemenTable, codes: Codes): ReadStock {
  const problems: FileProblem[] = [];
  const rowOfCode = rowsByCode(table, codes, problems);
  const dam = damColumn(table, codes, rowOfCode, problems);
  const pools = settlePools(table, batches, codes, rowOfCode);
  problems.push(...pools.problems);
  if (problems.length > 0) return { stock: null, problems: problems.sort(byPlace).slice(0, MOST_PROBLEMS) };
  const queens = table.queen.size;
  const sisters = new Int32Array(queens).fill(1);
  for (const [index, number] of table.sisters) sisters[index] = number;
  const queenName = (queen: number) => textOf(codes.queens, table.queen.values[queen] as number);
  const stock: Stock = {
    columns: {
      queens,
      dam,
      fromPool: new Int32Array(queens).fill(NONE),
      carries: pools.carries,
      born: table.born.values.slice(0, queens),
      sisters,
      ...pools.columns,
    },
    names: {
      queenId: queenName,
      queenName,
      poolId: pools.poolName,
      poolName: pools.poolName,
      queenIndex: (code) => rowOf(rowOfCode, lookUp(codes.queens, code)),
      poolIndex: pools.poolIndex,
    },
    assumptions: [...groupAssumptions(table, dam, queenName), ...pools.assumptions],
  };
  const rows: StockRows = {
    file: table.file,
    queenRow: (queen) => table.row.values[queen] ?? 0,
    poolPlace: pools.poolPlace,
  };
  return { stock, rows, problems: [] };
}

const rowOf = (rowOfCode: Int32Array, code: number): number => (code < 0 ? NONE : (rowOfCode[code] ?? NONE));

const byPlace = (a: FileProblem, b: FileProblem): number =>
  a.file === b.file ? (a.row ?? 0) - (b.row ?? 0) : a.file < b.file ? -1 : 1;

/** Row index of every queen code; NONE for a code without a row of its own. */
function rowsByCode(table: QueensTable, codes: Codes, problems: FileProblem[]): Int32Array {
  const rowOfCode = new Int32Array(codes.queens.size).fill(NONE);
  for (let i = 0; i < table.queen.size; i++) {
    const code = table.queen.values[i] as number;
    const before = rowOfCode[code] as number;
    if (before === NONE) rowOfCode[code] = i;
    else if (problems.length < MOST_PROBLEMS) {
      const found = `"${textOf(codes.queens, code)}" again, as in row ${table.row.values[before]}`;
      problems.push(fileProblem(table.file, 'code-twice', found, { row: table.row.values[i], column: 'queen' }));
    }
  }
  return rowOfCode;
}

function damColumn(table: QueensTable, codes: Codes, rowOfCode: Int32Array, problems: FileProblem[]): Int32Array {
  const dam = new Int32Array(table.queen.size);
  for (let i = 0; i < table.queen.size; i++) {
    const code = table.dam.values[i] as number;
    const row = rowOf(rowOfCode, code);
    dam[i] = row;
    if (code === NONE || row !== NONE || problems.length >= MOST_PROBLEMS) continue;
    const place = { row: table.row.values[i], column: 'dam' };
    problems.push(fileProblem(table.file, 'dam-unknown', `"${textOf(codes.queens, code)}"`, place));
  }
  return dam;
}

function groupAssumptions(table: QueensTable, dam: Int32Array, name: (queen: number) => string): Assumption[] {
  return [...table.sisters].flatMap(([queen, sisters]): Assumption[] => [
    { code: 'sister-group', queen: name(queen), sisters },
    ...(dam[queen] === NONE ? [{ code: 'sister-group-without-dam' as const, queen: name(queen) }] : []),
  ]);
}

/**
 * Reads both tables and lays out the kinship, or answers every problem with its file, row and column.
 * @example const queens = { name: 'QUEENS.csv', bytes: new TextEncoder().encode('queen,dam\nA,\nB,X\n') };
 * readPedigree(queens).problems // [{ file: 'QUEENS.csv', row: 3, column: 'dam', code: 'dam-unknown', found: '"X"' }]
 */
export function readPedigree(queens: NamedBytes, semen?: NamedBytes): ReadPedigree {
  const read = readStock(queens, semen);
  if (read.stock === null) return { pedigree: null, problems: read.problems };
  const laid = layPedigree(read.stock);
  if (laid.pedigree !== null) return { pedigree: laid.pedigree, problems: [] };
  return { pedigree: null, problems: laid.problems.map((problem) => placed(problem as DescentProblem, read.rows)) };
}

const CODES = {
  'pedigree-loop': 'loop',
  'pedigree-born-before-dam': 'born-before-dam',
  'pedigree-born-before-drone-mother': 'born-before-drone-mother',
  'pedigree-born-before-forebear': 'born-before-forebear',
  'pedigree-dam-is-group': 'dam-is-group',
} as const;

/** A problem of descent at its row: `queens.3.dam` is a row of the queens file, `pools.0.sources` one of its batches. */
function placed(problem: DescentProblem, rows: StockRows): FileProblem {
  const [kind, index, field] = problem.path.split('.');
  const { values } = problem;
  const found =
    problem.code === 'pedigree-loop'
      ? `"${values.found}", who descends from herself (${values.loop})`
      : values.older === undefined
        ? `"${values.found}"`
        : `"${values.found}", while ${values.older} was born ${values.olderBorn}`;
  if (kind === 'pools') {
    const place = rows.poolPlace(Number(index));
    return fileProblem(place.file, CODES[problem.code], found, { row: place.row, column: place.column });
  }
  return fileProblem(rows.file, CODES[problem.code], found, { row: rows.queenRow(Number(index)), column: field });
}
