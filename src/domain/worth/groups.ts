/**
 * Genetic groups: what founders and unrelated drones are worth on average where they come from. Without them every founder is expected to be worth the
 * same; with them the level of a line, or of an open mating place, is estimated too (Quaas 1988, J Dairy Sci 71:1338). Groups are taken as random with
 * variance `variance · G`, so that a group seen in few colonies stays near 0.
 */
import type { Pedigree } from '../pedigree/laid-pedigree.ts';
import { FROM_OPEN, NONE, sourcesOf } from '../pedigree/stock.ts';

/** Which group founders, open pools and pools with an open part belong to; −1 = none. */
export type Groups = {
  readonly names: readonly string[];
  /** By queen index: the group a queen's unknown dam or, for a founder, she herself comes from. */
  readonly ofFounder: Int32Array;
  /** By queen index: the group of the drones of the open pool she is given where nothing is written about her mating. */
  readonly ofOpen: Int32Array;
  /** By pool index: the group of the open part of a pool. */
  readonly ofPool: Int32Array;
  /** Variance of a group's mean in units of G, above 0; 1 when nothing is known. */
  readonly variance: number;
};

/** Names of groups by the ids of queens; a queen's open group also goes for the open part of a pool that she alone carries. */
export type GroupNames = {
  founder: ReadonlyMap<string, string>;
  open: ReadonlyMap<string, string>;
  variance: number;
};

/**
 * {@link Groups} from names, numbered as they first occur, founders before open drones. Queens without a name belong to no group; names of queens who are not
 * in the stock, and empty names, are passed over. `variance` is that of a group's mean in units of G, above 0 (not checked here). No names: no groups.
 * @example groupsOf(workedPedigree(), { founder: new Map([['A', 'Alder']]), open: new Map(), variance: 1 }).names // ['Alder']
 */
export function groupsOf({ stock }: Pedigree, given: GroupNames): Groups {
  const { columns, names: called } = stock;
  const names: string[] = [];
  const numbers = new Map<string, number>();
  const number = (name: string): number => {
    const known = numbers.get(name);
    if (known !== undefined) return known;
    numbers.set(name, names.length);
    return names.push(name) - 1;
  };
  const column = (of: ReadonlyMap<string, string>): Int32Array => {
    const out = new Int32Array(columns.queens).fill(NONE);
    for (const [id, name] of of) {
      const queen = called.queenIndex(id);
      if (queen !== NONE && name !== '') out[queen] = number(name);
    }
    return out;
  };
  const ofFounder = column(given.founder);
  const ofOpen = column(given.open);
  return { names, ofFounder, ofOpen, ofPool: ofOwnPools(columns, ofOpen), variance: given.variance };
}

/** The open group of each pool that one queen alone carries. */
function ofOwnPools(columns: Pedigree['stock']['columns'], ofOpen: Int32Array): Int32Array {
  const out = new Int32Array(columns.pools).fill(NONE);
  const carriers = new Int32Array(columns.pools);
  for (let i = 0; i < columns.queens; i++) {
    const pool = columns.carries[i] as number;
    if (pool === NONE) continue;
    carriers[pool] = (carriers[pool] as number) + 1;
    out[pool] = carriers[pool] === 1 ? (ofOpen[i] as number) : NONE;
  }
  return out;
}

/** Part of a pool's sperm that comes from open drones, 0-1. */
function openShare({ stock: { columns } }: Pedigree, pool: number): number {
  const [from, to] = sourcesOf(columns, pool);
  let share = 0;
  for (let s = from; s < to; s++) if (columns.sourceKind[s] === FROM_OPEN) share += columns.sourceShare[s] as number;
  return share;
}

/**
 * Group of each row of the recursion (−1 = none) and how much of it the row has: 1 a founder, ½ a queen whose dam is unknown while her father's pool is not, ½
 * an open mating, ½ the open share of a pool that one queen alone carries (groups as parents of founders: Quaas 1988, J Dairy Sci 71:1338).
 * @example const pedigree = workedPedigree();
 * const groups = groupsOf(pedigree, { founder: new Map([['A', 'Alder']]), open: new Map([['Q3', 'Heath']]), variance: 1 });
 * const { part } = groupOfRows(pedigree, groups); [part[pedigree.queenNode[0]], part[pedigree.carriedNode[5]]] // [1, 0.5]; A, and Q3's 12 open drones
 */
export function groupOfRows(pedigree: Pedigree, groups: Groups): { group: Int32Array; part: Float64Array } {
  const { columns } = pedigree.stock;
  const group = new Int32Array(pedigree.recursion.size).fill(NONE);
  const part = new Float64Array(pedigree.recursion.size);
  for (let i = 0; i < columns.queens; i++) {
    if (columns.dam[i] === NONE) {
      const node = pedigree.queenNode[i] as number;
      group[node] = groups.ofFounder[i] as number;
      part[node] = columns.fromPool[i] === NONE ? 1 : 0.5;
    }
    if (columns.carries[i] === NONE) {
      const node = pedigree.carriedNode[i] as number;
      group[node] = groups.ofOpen[i] as number;
      part[node] = 0.5;
    }
  }
  for (let p = 0; p < columns.pools; p++) {
    const node = pedigree.poolNode[p] as number;
    group[node] = groups.ofPool[p] as number;
    part[node] = 0.5 * openShare(pedigree, p);
    if (part[node] === 0) group[node] = NONE;
  }
  return { group, part };
}
