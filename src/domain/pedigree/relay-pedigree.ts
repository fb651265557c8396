/**
 * Kinship after a change, without working the stock out again: a new queen, a mating corrected, a day moved. What a change reaches is worked out
 * anew (the rows changed and everything that descends from them); own variances, self relationships and inbreeding of all others are taken over.
 * Order and checks of descent are done again, because they cost one pass.
 *
 * ```ts
 * const { laid, recomputed } = relayPedigree(before, changedFacts); // recomputed: how many nodes, 2 for a daughter and her own pool
 * ```
 */
import type { PedigreeFacts } from './facts.ts';
import { gatherStock } from './facts.ts';
import type { Pedigree } from './laid-pedigree.ts';
import { type Known, type Laid, layPedigree } from './pedigree.ts';
import { FROM_OPEN, FROM_QUEEN, NONE, type Stock, sourcesOf } from './stock.ts';

/** The pedigree after the change (or what keeps it from being one), and how many nodes were worked out anew; 0 with problems. */
export type Relaid = { laid: Laid; recomputed: number };

/**
 * {@link relayPedigree} for facts: {@link gatherStock} first, whose problems are answered.
 * @example const more = { ...workedStock, queens: [...workedStock.queens, { id: 'Q5', dam: 'A' }] };
 * relayPedigreeOf(workedPedigree(), more).recomputed // 1; her open pool is the same for all
 */
export function relayPedigreeOf(before: Pedigree, facts: PedigreeFacts): Relaid {
  const gathered = gatherStock(facts);
  if (gathered.stock === null) return { laid: { pedigree: null, problems: gathered.problems }, recomputed: 0 };
  return relayPedigree(before, gathered.stock);
}

/**
 * Lays out a changed stock beside the one it was; the same as {@link layPedigree} up to the rounding of sums in another order. Queens and pools are
 * matched by id; `before` stays as it is.
 * @example const { stock } = gatherStock({ ...workedStock, queens: [...workedStock.queens, { id: 'Q5', dam: 'A' }] });
 * relayPedigree(workedPedigree(), stock).laid.pedigree.inbreeding.length // 8
 */
export function relayPedigree(before: Pedigree, stock: Stock): Relaid {
  let recomputed = 0;
  const known: Known = {
    queen: sameQueens(before, stock),
    pool: samePools(before, stock),
    tell: (count) => {
      recomputed = count;
    },
    before,
  };
  const laid = layPedigree(stock, known);
  return { laid, recomputed };
}

/** For each queen of the new stock her index in the old one where what she descends from is written the same, else NONE. */
function sameQueens({ stock: old }: Pedigree, stock: Stock): Int32Array {
  const { queens } = stock.columns;
  const out = new Int32Array(queens).fill(NONE);
  for (let i = 0; i < queens; i++) {
    const j = old.names.queenIndex(stock.names.queenId(i));
    if (j === NONE || old.columns.sisters[j] !== stock.columns.sisters[i]) continue;
    if (damAndPool(old, j) === damAndPool(stock, i)) out[i] = j;
  }
  return out;
}

/** Dam and the pool a queen descends from, by ids. */
function damAndPool({ columns, names }: Stock, queen: number): string {
  const dam = columns.dam[queen] as number;
  const own = columns.fromPool[queen] as number;
  const pool = own === NONE && dam !== NONE ? (columns.carries[dam] as number) : own;
  return JSON.stringify([dam === NONE ? null : names.queenId(dam), pool === NONE ? null : names.poolId(pool)]);
}

/** The same for pools: sources, shares and numbers of drones. */
function samePools({ stock: old }: Pedigree, stock: Stock): Int32Array {
  const { pools } = stock.columns;
  const out = new Int32Array(pools).fill(NONE);
  for (let p = 0; p < pools; p++) {
    const j = old.names.poolIndex(stock.names.poolId(p));
    if (j !== NONE && sourcesText(old, j) === sourcesText(stock, p)) out[p] = j;
  }
  return out;
}

function sourcesText({ columns, names }: Stock, pool: number): string {
  const [from, to] = sourcesOf(columns, pool);
  const sources: (string | number | undefined)[] = [columns.oneOf[pool]];
  for (let s = from; s < to; s++) {
    const ref = columns.sourceRef[s] as number;
    const kind = columns.sourceKind[s];
    sources.push(kind, columns.sourceShare[s], columns.sourceDrones[s], columns.sourceAlike[s]);
    if (kind !== FROM_OPEN) sources.push(kind === FROM_QUEEN ? names.queenId(ref) : names.poolId(ref));
    if (kind === FROM_QUEEN) sources.push(columns.sisters[ref]);
  }
  return sources.map(String).join('\n');
}
