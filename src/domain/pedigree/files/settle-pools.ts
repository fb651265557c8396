/** What the codes of matings and batches mean, once all rows are known: the pool columns of a stock. */
import { lookUp, textOf } from '#numeric/csv/byte-dictionary.ts';
import { type Growing, growingInts, growingNumbers, pushInt, pushNumber } from '#numeric/csv/growing.ts';
import type { Assumption } from '../assumption.ts';
import { DRONES_WHEN_NOT_SAID, FROM_OPEN, FROM_POOL, FROM_QUEEN, NONE, type StockColumns } from '../stock.ts';
import { type FileProblem, fileProblem } from './file-problem.ts';
import { completeShares, type MatingPart, readMating } from './mating-text.ts';
import { type Codes, MOST_PROBLEMS, OPEN_CODE, type QueensTable } from './queens-table.ts';
import type { SemenRow, SemenTable } from './semen-table.ts';

type PoolColumns = Pick<
  StockColumns,
  'pools' | 'sourceStart' | 'sourceKind' | 'sourceRef' | 'sourceShare' | 'sourceDrones' | 'sourceAlike' | 'oneOf'
>;

/** The pools of a stock, batches first, with their names, places in the files, and what was taken for granted or is wrong. */
export type SettledPools = {
  columns: PoolColumns;
  /** Pool each queen carries. */
  carries: Int32Array;
  poolName(pool: number): string;
  poolIndex(name: string): number;
  poolPlace(pool: number): { file: string; row: number; column: string };
  assumptions: Assumption[];
  problems: FileProblem[];
};

/** Pools while they are gathered: batches first, in order of their first row, then the pools queens have of their own. */
type Gathering = {
  readonly table: QueensTable;
  readonly codes: Codes;
  readonly rowOfCode: Int32Array;
  readonly batchPool: Int32Array;
  readonly kind: Growing<Int32Array>;
  readonly start: Growing<Int32Array>;
  readonly ref: Growing<Int32Array>;
  readonly share: Growing<Float64Array>;
  readonly drones: Growing<Float64Array>;
  readonly owner: Growing<Int32Array>;
  readonly alternatives: Set<number>;
  readonly assumptions: Assumption[];
  readonly problems: FileProblem[];
};

/**
 * Settles every mating and batch; `rowOfCode` gives the row index of each queen code, NONE without one. Problems name the row of the queen or of the
 * batch's source.
 * @example const codes = { queens: makeDictionary(), batches: makeDictionary() }; internText(codes.queens, 'open');
 * const table = readQueensTable('QUEENS.csv', workedFiles.queens.bytes, codes);
 * const semen = readSemenTable('SEMEN.csv', workedFiles.semen.bytes, codes);
 * const rowOfCode = new Int32Array(codes.queens.size).fill(NONE);
 * filledInts(table.queen).forEach((code, row) => { rowOfCode[code] = row; });
 * settlePools(table, semen, codes, rowOfCode).poolName(0) // 'batch P'
 */
export function settlePools(table: QueensTable, semen: SemenTable, codes: Codes, rowOfCode: Int32Array): SettledPools {
  const batches = batchesOf(semen, codes);
  const g = emptyGathering(table, codes, rowOfCode, batches.pool);
  for (const rows of batches.rows) gatherBatch(g, semen.file, rows);
  const carries = gatherOwnPools(g, semen.file);
  const own = new Map<number, number>();
  const batchCount = batches.rows.length;
  const batchName = (pool: number) => textOf(codes.batches, batches.rows[pool]?.[0]?.batch ?? 0);
  const ownerOf = (pool: number) => g.owner.values[pool - batchCount] as number;
  return {
    columns: columnsOf(g),
    carries,
    poolName: (pool) => (pool < batchCount ? `batch ${batchName(pool)}` : `semen of ${queenName(g, ownerOf(pool))}`),
    poolIndex: (name) => poolIndex(g, { name, own, batchCount }),
    poolPlace: (pool) =>
      pool < batchCount
        ? { file: semen.file, row: batches.rows[pool]?.[0]?.row ?? 0, column: 'source' }
        : { file: table.file, row: table.row.values[ownerOf(pool)] ?? 0, column: 'mated_to' },
    assumptions: g.assumptions,
    problems: g.problems,
  };
}

const queenName = (g: Gathering, queen: number) => textOf(g.codes.queens, g.table.queen.values[queen] as number);

function emptyGathering(table: QueensTable, codes: Codes, rowOfCode: Int32Array, batchPool: Int32Array): Gathering {
  const room = table.queen.size + 16;
  const start = growingInts(room);
  pushInt(start, 0);
  return {
    table,
    codes,
    rowOfCode,
    batchPool,
    kind: growingInts(room),
    start,
    ref: growingInts(room),
    share: growingNumbers(room),
    drones: growingNumbers(room),
    owner: growingInts(room),
    alternatives: new Set(),
    assumptions: [],
    problems: [],
  };
}

/** Batches in the order of their first row: their rows, and the pool number of each batch code. */
function batchesOf(semen: SemenTable, codes: Codes): { rows: SemenRow[][]; pool: Int32Array } {
  const pool = new Int32Array(codes.batches.size).fill(NONE);
  const rows: SemenRow[][] = [];
  for (const row of semen.rows) {
    if (pool[row.batch] === NONE) pool[row.batch] = rows.push([]) - 1;
    rows[pool[row.batch] as number]?.push(row);
  }
  return { rows, pool };
}

type Source = { kind: number; ref: number; share: number; drones: number };

function pushSource(g: Gathering, source: Source): void {
  pushInt(g.kind, source.kind);
  pushInt(g.ref, source.ref);
  pushNumber(g.share, source.share);
  pushNumber(g.drones, source.drones);
}

const closePool = (g: Gathering): number => {
  pushInt(g.start, g.ref.size);
  return g.start.size - 2;
};

type Place = { file: string; row: number | undefined; column: string };

function wrong(g: Gathering, code: Parameters<typeof fileProblem>[1], found: string, place: Place): void {
  if (g.problems.length < MOST_PROBLEMS) g.problems.push(fileProblem(place.file, code, found, place));
}

/** What a source of a batch is, by its code. */
function batchSource(g: Gathering, file: string, row: SemenRow): { kind: number; ref: number } {
  if (row.asQueen === OPEN_CODE) return { kind: FROM_OPEN, ref: NONE };
  const queen = g.rowOfCode[row.asQueen] ?? NONE;
  const batch = g.batchPool[row.asBatch] ?? NONE;
  const place = { file, row: row.row, column: 'source' };
  if (queen !== NONE && batch !== NONE)
    wrong(g, 'code-both', `"${row.source}", which is both a queen and a batch`, place);
  if (queen === NONE && batch === NONE) wrong(g, 'source-unknown', `"${row.source}"`, place);
  return queen !== NONE ? { kind: FROM_QUEEN, ref: queen } : { kind: FROM_POOL, ref: batch };
}

function gatherBatch(g: Gathering, file: string, rows: readonly SemenRow[]): void {
  const name = textOf(g.codes.batches, rows[0]?.batch ?? 0);
  const pool = `batch ${name}`;
  const completed = completeShares(rows.map((row) => row.share));
  if (typeof completed === 'string') {
    const sum = rows.reduce((total, row) => total + (row.share ?? 0), 0);
    wrong(g, completed, `shares of batch "${name}" that add up to ${Number(sum.toPrecision(6))}`, {
      file,
      row: rows[0]?.row,
      column: 'share',
    });
    closePool(g);
    return;
  }
  if (completed.scaledFrom !== null) g.assumptions.push({ code: 'shares-scaled', pool, sum: completed.scaledFrom });
  for (const [i, row] of rows.entries()) {
    const { kind, ref } = batchSource(g, file, row);
    const share = completed.shares[i] ?? 0;
    const drones = row.drones ?? (kind === FROM_POOL ? Number.POSITIVE_INFINITY : DRONES_WHEN_NOT_SAID);
    if (row.drones === null && kind !== FROM_POOL) {
      g.assumptions.push({ code: 'source-drones-not-said', pool, source: row.source, drones });
    }
    if (row.share === null && rows.length > 1)
      g.assumptions.push({ code: 'share-filled-in', pool, source: row.source, share });
    if (kind === FROM_OPEN) g.assumptions.push({ code: 'open-source', pool, share });
    pushSource(g, { kind, ref, share, drones });
  }
  closePool(g);
}

/** Makes the pools queens have of their own; answers which pool each carries. */
function gatherOwnPools(g: Gathering, semenFile: string): Int32Array {
  const { table } = g;
  const carries = new Int32Array(table.queen.size).fill(NONE);
  for (let i = 0; i < carries.length; i++) {
    const batch = table.batch.values[i] as number;
    const drones = table.drones.values[i] as number;
    const text = table.matedText.get(i);
    if (batch !== NONE) carries[i] = batchOf(g, i, semenFile);
    else if (text !== undefined) carries[i] = matedByText(g, i, text);
    else if (table.matedTo.values[i] !== NONE) carries[i] = matedToOne(g, i);
    else if (!Number.isNaN(drones)) g.assumptions.push({ code: 'drones-not-used', queen: queenName(g, i), drones });
  }
  return carries;
}

function ownPool(g: Gathering, queen: number): number {
  pushInt(g.owner, queen);
  return closePool(g);
}

function batchOf(g: Gathering, queen: number, semenFile: string): number {
  const code = g.table.batch.values[queen] as number;
  const batch = g.batchPool[code] ?? NONE;
  const drones = g.table.drones.values[queen] as number;
  if (batch === NONE) {
    const found = `"${textOf(g.codes.batches, code)}", of which ${semenFile} says nothing`;
    wrong(g, 'batch-unknown', found, { file: g.table.file, row: g.table.row.values[queen], column: 'semen' });
  }
  if (Number.isNaN(drones) || batch === NONE) return batch;
  pushSource(g, { kind: FROM_POOL, ref: batch, share: 1, drones });
  return ownPool(g, queen);
}

/** Number of drones of a pool of her own, saying so when it is not written. */
function dronesOf(g: Gathering, queen: number): number {
  const drones = g.table.drones.values[queen] as number;
  if (!Number.isNaN(drones)) return drones;
  g.assumptions.push({
    code: 'drones-not-said',
    pool: `semen of ${queenName(g, queen)}`,
    drones: DRONES_WHEN_NOT_SAID,
  });
  return DRONES_WHEN_NOT_SAID;
}

function matedToOne(g: Gathering, queen: number): number {
  const code = g.table.matedTo.values[queen] as number;
  const mother = g.rowOfCode[code] ?? NONE;
  const drones = dronesOf(g, queen);
  if (code === OPEN_CODE)
    g.assumptions.push({ code: 'open-source', pool: `semen of ${queenName(g, queen)}`, share: 1 });
  else if (mother === NONE) unknownMother(g, queen, textOf(g.codes.queens, code));
  pushSource(g, { kind: code === OPEN_CODE ? FROM_OPEN : FROM_QUEEN, ref: mother, share: 1, drones });
  return ownPool(g, queen);
}

const unknownMother = (g: Gathering, queen: number, code: string) =>
  wrong(g, 'drone-mother-unknown', `"${code}"`, {
    file: g.table.file,
    row: g.table.row.values[queen],
    column: 'mated_to',
  });

const queenRow = (g: Gathering, code: string): number => {
  const number = lookUp(g.codes.queens, code);
  return number < 0 ? NONE : (g.rowOfCode[number] ?? NONE);
};

function matedByText(g: Gathering, queen: number, text: string): number {
  const isCode = (code: string) => queenRow(g, code) !== NONE;
  const mating = readMating(text, { isCode, decimalComma: g.table.decimalComma });
  if ('found' in mating) {
    wrong(g, mating.code, `"${mating.found}"`, {
      file: g.table.file,
      row: g.table.row.values[queen],
      column: 'mated_to',
    });
    return NONE;
  }
  const drones = dronesOf(g, queen);
  const pool = `semen of ${queenName(g, queen)}`;
  for (const part of mating.parts)
    gatherPart(g, queen, { part, pool, drones: mating.oneOf ? drones : drones * part.share });
  const own = ownPool(g, queen);
  if (mating.scaledFrom !== null) g.assumptions.push({ code: 'shares-scaled', pool, sum: mating.scaledFrom });
  if (mating.oneOf) {
    g.alternatives.add(own);
    const sources = mating.parts.map((part) => ({ source: part.code, probability: part.share }));
    g.assumptions.push({ code: 'one-of', pool, sources });
  }
  return own;
}

function gatherPart(
  g: Gathering,
  queen: number,
  { part, pool, drones }: { part: MatingPart; pool: string; drones: number },
): void {
  const isOpen = part.code === 'open';
  const mother = isOpen ? NONE : queenRow(g, part.code);
  if (!isOpen && mother === NONE) unknownMother(g, queen, part.code);
  if (isOpen) g.assumptions.push({ code: 'open-source', pool, share: part.share });
  if (part.filledIn) g.assumptions.push({ code: 'share-filled-in', pool, source: part.code, share: part.share });
  pushSource(g, { kind: isOpen ? FROM_OPEN : FROM_QUEEN, ref: mother, share: part.share, drones });
}

function alternatives(g: Gathering, pools: number): Uint8Array {
  const out = new Uint8Array(pools);
  for (const pool of g.alternatives) out[pool] = 1;
  return out;
}

function columnsOf(g: Gathering): PoolColumns {
  const sources = g.ref.size;
  const pools = g.start.size - 1;
  return {
    pools,
    sourceStart: g.start.values.slice(0, pools + 1),
    sourceKind: new Uint8Array(g.kind.values.subarray(0, sources)),
    sourceRef: g.ref.values.slice(0, sources),
    sourceShare: g.share.values.slice(0, sources),
    sourceDrones: g.drones.values.slice(0, sources),
    sourceAlike: new Float64Array(sources),
    oneOf: alternatives(g, pools),
  };
}

/** Pool by its name, `batch B` or `semen of Q`; the owners are indexed when first asked for. */
function poolIndex(g: Gathering, asked: { name: string; own: Map<number, number>; batchCount: number }): number {
  const { name, own, batchCount } = asked;
  if (name.startsWith('batch ')) return g.batchPool[lookUp(g.codes.batches, name.slice(6))] ?? NONE;
  if (!name.startsWith('semen of ')) return NONE;
  if (own.size === 0) for (let k = 0; k < g.owner.size; k++) own.set(g.owner.values[k] as number, batchCount + k);
  return own.get(queenRow(g, name.slice(9))) ?? NONE;
}
