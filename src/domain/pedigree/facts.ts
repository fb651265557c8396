/**
 * What a pedigree is made of, as plain facts: queens and the gamete pools they carry. Records, forms and tests make these;
 * {@link gatherStock} turns them into columns and says which of them cannot stand.
 */
import type { Day } from '#units/calendar-day.ts';
import { type Problem, refuse } from '#units/problem.ts';
import type { Assumption } from './assumption.ts';
import { dayNumber } from './day-number.ts';
import {
  FROM_OPEN,
  FROM_POOL,
  FROM_QUEEN,
  NO_DAY,
  NONE,
  type Stock,
  type StockColumns,
  type StockNames,
} from './stock.ts';

/** A queen, or a group of sisters nobody recorded one by one. */
export type QueenFact = {
  /** Opaque; unique among the queens. */
  id: string;
  /** What she is called where a person reads it; her id when left out. */
  code?: string;
  /** Her mother; left out for a founder. */
  dam?: string | null;
  /** The pool she descends from, when that is not the one her dam carries now (her dam was inseminated again later). */
  fromPool?: string | null;
  /** The pool she carries; left out = nothing known: in the model a private pool of 12 unrelated drones. */
  pool?: string | null;
  /** Day she emerged. */
  born?: Day | null;
  /** More than 1 makes her a group of that many sisters used as drone mothers; whole. */
  sisters?: number;
};

/**
 * Where sperm of a pool comes from. `share` > 0 of the sperm (or the probability, in a `oneOf` pool); shares are scaled to add up to 1.
 * `drones` are effective drones from that source, > 0: (Σv)² / Σv² when the volumes v of single drones are known; `Infinity` = so many that none
 * is met twice.
 */
export type SourceFact =
  | { queen: string; share: number; drones: number }
  /** Sperm of another pool; `draws` null = the whole of it, homogenised; a number = that many effective draws from it. */
  | { pool: string; share: number; draws: number | null }
  /** Drones of a population unrelated to the stock; `alike` = probability that two of their gametes are alike by descent, default 0. */
  | { open: true; share: number; drones: number; alike?: number };

/** A gamete pool: the sperm in one spermatheca, one homogenised batch, or one drone. Queens inseminated from one batch name one pool. */
export type PoolFact = {
  id: string;
  name?: string;
  sources: readonly SourceFact[];
  /** The sources are alternatives with probabilities ("R-07 or R-09, rather R-07"), not parts of a mixture. */
  oneOf?: boolean;
};

/** The queens and pools of a stock in any order; they name one another by id. */
export type PedigreeFacts = {
  queens: readonly QueenFact[];
  pools: readonly PoolFact[];
  /** What was taken for granted while the facts were gathered; repeated beside every answer. */
  assumptions?: readonly Assumption[];
};

/** What about facts cannot stand. */
export type FactProblemCode =
  | 'pedigree-queen-twice'
  | 'pedigree-pool-twice'
  | 'pedigree-dam-unknown'
  | 'pedigree-pool-unknown'
  | 'pedigree-source-unknown'
  | 'pedigree-pool-empty'
  | 'pedigree-share-not-positive'
  | 'pedigree-drones-not-positive'
  | 'pedigree-sisters-not-whole';

type Problems = Problem<FactProblemCode>[];

function indexBy(ids: readonly string[], path: string, code: FactProblemCode, problems: Problems): Map<string, number> {
  const index = new Map<string, number>();
  for (const [i, id] of ids.entries()) {
    if (index.has(id)) problems.push(refuse(`${path}.${i}.id`, code, { found: id }));
    else index.set(id, i);
  }
  return index;
}

type Indexes = { queens: Map<string, number>; pools: Map<string, number> };

function lookUp(
  index: Map<string, number>,
  id: string | null | undefined,
  problem: { path: string; code: FactProblemCode },
  problems: Problems,
): number {
  if (id === null || id === undefined) return NONE;
  const found = index.get(id);
  if (found !== undefined) return found;
  problems.push(refuse(problem.path, problem.code, { found: id }));
  return NONE;
}

/** The source as numbers: kind, index, effective drones. */
function readSource(source: SourceFact, path: string, indexes: Indexes, problems: Problems): [number, number, number] {
  const unknown = { path, code: 'pedigree-source-unknown' as const };
  if ('queen' in source) return [FROM_QUEEN, lookUp(indexes.queens, source.queen, unknown, problems), source.drones];
  if ('pool' in source) {
    return [FROM_POOL, lookUp(indexes.pools, source.pool, unknown, problems), source.draws ?? Number.POSITIVE_INFINITY];
  }
  return [FROM_OPEN, NONE, source.drones];
}

function sourceColumns(pools: readonly PoolFact[], indexes: Indexes, problems: Problems) {
  const total = pools.reduce((sum, pool) => sum + pool.sources.length, 0);
  const columns = {
    sourceStart: new Int32Array(pools.length + 1),
    sourceKind: new Uint8Array(total),
    sourceRef: new Int32Array(total),
    sourceShare: new Float64Array(total),
    sourceDrones: new Float64Array(total),
    sourceAlike: new Float64Array(total),
    oneOf: Uint8Array.from(pools, (pool) => (pool.oneOf ? 1 : 0)),
  };
  let at = 0;
  for (const [p, pool] of pools.entries()) {
    if (pool.sources.length === 0)
      problems.push(refuse(`pools.${p}.sources`, 'pedigree-pool-empty', { found: pool.id }));
    const sum = pool.sources.reduce((s, source) => s + source.share, 0);
    for (const [s, source] of pool.sources.entries()) {
      const path = `pools.${p}.sources.${s}`;
      const [kind, ref, drones] = readSource(source, path, indexes, problems);
      if (!(source.share > 0)) problems.push(refuse(path, 'pedigree-share-not-positive', { found: source.share }));
      if (!(drones > 0)) problems.push(refuse(path, 'pedigree-drones-not-positive', { found: drones }));
      columns.sourceKind[at] = kind;
      columns.sourceRef[at] = ref;
      columns.sourceShare[at] = source.share / sum;
      columns.sourceDrones[at] = drones;
      columns.sourceAlike[at] = 'open' in source ? (source.alike ?? 0) : 0;
      at++;
    }
    columns.sourceStart[p + 1] = at;
  }
  return columns;
}

function queenColumns(queens: readonly QueenFact[], indexes: Indexes, problems: Problems) {
  const column = () => new Int32Array(queens.length);
  const columns = { dam: column(), fromPool: column(), carries: column(), born: column(), sisters: column() };
  for (const [i, queen] of queens.entries()) {
    const at = (field: string, code: FactProblemCode) => ({ path: `queens.${i}.${field}`, code });
    columns.dam[i] = lookUp(indexes.queens, queen.dam, at('dam', 'pedigree-dam-unknown'), problems);
    columns.fromPool[i] = lookUp(indexes.pools, queen.fromPool, at('fromPool', 'pedigree-pool-unknown'), problems);
    columns.carries[i] = lookUp(indexes.pools, queen.pool, at('pool', 'pedigree-pool-unknown'), problems);
    columns.born[i] = queen.born ? (dayNumber(queen.born) ?? NO_DAY) : NO_DAY;
    const sisters = queen.sisters ?? 1;
    if (!Number.isInteger(sisters) || sisters < 1) {
      problems.push(refuse(`queens.${i}.sisters`, 'pedigree-sisters-not-whole', { found: sisters }));
    }
    columns.sisters[i] = sisters;
  }
  return columns;
}

function namesOf(facts: PedigreeFacts, indexes: Indexes): StockNames {
  const queen = (i: number) => facts.queens[i];
  const pool = (p: number) => facts.pools[p];
  return {
    queenId: (i) => queen(i)?.id ?? '',
    poolId: (p) => pool(p)?.id ?? '',
    queenIndex: (id) => indexes.queens.get(id) ?? NONE,
    poolIndex: (id) => indexes.pools.get(id) ?? NONE,
    queenName: (i) => queen(i)?.code ?? queen(i)?.id ?? '',
    poolName: (p) => pool(p)?.name ?? pool(p)?.id ?? '',
  };
}

function assumptionsOf(facts: PedigreeFacts, names: StockNames, columns: StockColumns): Assumption[] {
  const out: Assumption[] = [...(facts.assumptions ?? [])];
  for (const [i, queen] of facts.queens.entries()) {
    const sisters = queen.sisters ?? 1;
    if (sisters > 1) out.push({ code: 'sister-group', queen: names.queenName(i), sisters });
    if (sisters > 1 && columns.dam[i] === NONE)
      out.push({ code: 'sister-group-without-dam', queen: names.queenName(i) });
  }
  for (const [p, pool] of facts.pools.entries()) out.push(...poolAssumptions(pool, names.poolName(p), names, columns));
  return out;
}

function poolAssumptions(pool: PoolFact, name: string, names: StockNames, columns: StockColumns): Assumption[] {
  const out: Assumption[] = [];
  const sum = pool.sources.reduce((s, source) => s + source.share, 0);
  for (const source of pool.sources) {
    if ('open' in source) out.push({ code: 'open-source', pool: name, share: source.share / sum });
  }
  if (pool.oneOf) {
    const called = (source: SourceFact) => {
      if ('queen' in source) return names.queenName(names.queenIndex(source.queen));
      return 'pool' in source ? names.poolName(names.poolIndex(source.pool)) : 'open';
    };
    const sources = pool.sources.map((s) => ({ source: called(s), probability: s.share / sum }));
    out.push({ code: 'one-of', pool: name, sources });
  }
  return columns.pools > 0 ? out : [];
}

/**
 * Facts as columns, or the facts that cannot stand: an id used twice, a dam, pool or source that is not among them, a pool
 * without source, shares or drones that are not positive, a group that is not a whole number. Paths are `queens.3.dam`, `pools.0.sources.1`; values
 * carry what was found. Queens and pools keep their order; shares are scaled to 1; a day that is none counts as not known.
 * @example gatherStock({ queens: [{ id: 'B', dam: 'A' }], pools: [] }).problems[0]?.code // 'pedigree-dam-unknown'
 */
export function gatherStock(
  facts: PedigreeFacts,
): { stock: Stock; problems: [] } | { stock: null; problems: Problems } {
  const problems: Problems = [];
  const queenIds = facts.queens.map((queen) => queen.id);
  const poolIds = facts.pools.map((pool) => pool.id);
  const indexes = {
    queens: indexBy(queenIds, 'queens', 'pedigree-queen-twice', problems),
    pools: indexBy(poolIds, 'pools', 'pedigree-pool-twice', problems),
  };
  const columns: StockColumns = {
    queens: facts.queens.length,
    pools: facts.pools.length,
    ...queenColumns(facts.queens, indexes, problems),
    ...sourceColumns(facts.pools, indexes, problems),
  };
  if (problems.length > 0) return { stock: null, problems };
  const names = namesOf(facts, indexes);
  return { stock: { columns, names, assumptions: assumptionsOf(facts, names, columns) }, problems: [] };
}
