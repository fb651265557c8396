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
import { FROM_OPEN, FROM_QUEEN, NONE, type Stock, type StockColumns, sourcesOf } from './stock.ts';

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
  const same = sameIds(before.stock, stock);
  const known: Known = {
    queen: sameQueens(before.stock, stock, same),
    pool: samePools(before.stock, stock, same),
    tell: (count) => {
      recomputed = count;
    },
    before,
  };
  const laid = layPedigree(stock, known);
  return { laid, recomputed };
}

/** For each queen and pool of the new stock the one of the same id in the old, NONE where there is none. */
type Same = { queen: Int32Array; pool: Int32Array };

function sameIds({ names: old }: Stock, { columns, names }: Stock): Same {
  return {
    queen: Int32Array.from({ length: columns.queens }, (_, i) => old.queenIndex(names.queenId(i))),
    pool: Int32Array.from({ length: columns.pools }, (_, p) => old.poolIndex(names.poolId(p))),
  };
}

/** Whether a reference of the new stock names what one of the old stock named: both nothing, or the same id. */
const namesSame = (now: number, was: number, same: Int32Array): boolean =>
  now === NONE ? was === NONE : was !== NONE && same[now] === was;

/** Her index in the old stock for each queen of the new one where what she descends from is written the same, else NONE. */
function sameQueens({ columns: old }: Stock, { columns }: Stock, same: Same): Int32Array {
  return same.queen.map((j, i) => {
    if (j === NONE || old.sisters[j] !== columns.sisters[i]) return NONE;
    const isSame =
      namesSame(columns.dam[i] as number, old.dam[j] as number, same.queen) &&
      namesSame(poolBehind(columns, i), poolBehind(old, j), same.pool);
    return isSame ? j : NONE;
  });
}

/** The pool a queen descends from. */
function poolBehind({ dam, fromPool, carries }: StockColumns, queen: number): number {
  const own = fromPool[queen] as number;
  const mother = dam[queen] as number;
  return own === NONE && mother !== NONE ? (carries[mother] as number) : own;
}

/** The same for pools: sources, shares and numbers of drones. */
function samePools({ columns: old }: Stock, { columns }: Stock, same: Same): Int32Array {
  return same.pool.map((j, p) => {
    if (j === NONE || old.oneOf[j] !== columns.oneOf[p]) return NONE;
    const [from, to] = sourcesOf(columns, p);
    const [first, end] = sourcesOf(old, j);
    if (to - from !== end - first) return NONE;
    for (let s = from; s < to; s++) if (!isSameSource(columns, s, old, first + s - from, same)) return NONE;
    return j;
  });
}

function isSameSource(now: StockColumns, s: number, old: StockColumns, t: number, same: Same): boolean {
  const kind = now.sourceKind[s];
  if (
    kind !== old.sourceKind[t] ||
    now.sourceShare[s] !== old.sourceShare[t] ||
    now.sourceDrones[s] !== old.sourceDrones[t] ||
    now.sourceAlike[s] !== old.sourceAlike[t]
  )
    return false;
  if (kind === FROM_OPEN) return true;
  const [ref, was] = [now.sourceRef[s] as number, old.sourceRef[t] as number];
  if (kind !== FROM_QUEEN) return namesSame(ref, was, same.pool);
  return namesSame(ref, was, same.queen) && now.sisters[ref] === old.sisters[was];
}
