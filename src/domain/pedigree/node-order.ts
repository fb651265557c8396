/**
 * Queens and pools in one row, oldest first: every node stands after the nodes it descends from, sisters side by side.
 * Raw numbers are queens 0 … n−1, then the pools, then one private open pool for each queen about whose mating nothing is written.
 */
import { FROM_OPEN, FROM_QUEEN, NONE, type StockColumns } from './stock.ts';

/**
 * Nodes by raw number with their older neighbours (not yet in order): node i has the terms `start[i] … start[i+1]−1`; `carried` has one number a
 * queen.
 */
export type RawNodes = {
  readonly count: number;
  /** Raw number of the pool each queen carries (her own open pool when nothing is written). */
  readonly carried: Int32Array;
  readonly start: Int32Array;
  readonly older: Int32Array;
  readonly weight: Float64Array;
};

/**
 * What a queen or pool descends from: ½ her dam and the whole of a pool; half of each drone mother by share; a pool by share. Sources named twice
 * are one.
 */
export function rawNodes(columns: StockColumns): RawNodes {
  const { queens, pools, carries, dam, fromPool } = columns;
  const carried = new Int32Array(queens);
  let count = queens + pools;
  for (let i = 0; i < queens; i++) carried[i] = carries[i] === NONE ? count++ : queens + (carries[i] as number);
  const start = new Int32Array(count + 1);
  const older = new Int32Array(2 * queens + columns.sourceKind.length);
  const weight = new Float64Array(older.length);
  let at = 0;
  for (let i = 0; i < queens; i++) {
    start[i] = at;
    const mother = dam[i] as number;
    const pool =
      fromPool[i] === NONE ? (mother === NONE ? NONE : (carried[mother] as number)) : queens + (fromPool[i] as number);
    if (mother !== NONE) {
      older[at] = mother;
      weight[at++] = 0.5;
    }
    if (pool !== NONE) {
      older[at] = pool;
      weight[at++] = 1;
    }
  }
  for (let p = 0; p < pools; p++) {
    start[queens + p] = at;
    at = poolTerms(columns, p, { older, weight, at });
  }
  start.fill(at, queens + pools);
  return { count, carried, start, older: older.subarray(0, at), weight: weight.subarray(0, at) };
}

/** Writes the terms of one pool, merging a source named twice; answers where the next term goes. */
function poolTerms(
  columns: StockColumns,
  pool: number,
  into: { older: Int32Array; weight: Float64Array; at: number },
): number {
  const first = into.at;
  let at = first;
  for (let s = columns.sourceStart[pool] as number; s < (columns.sourceStart[pool + 1] as number); s++) {
    const kind = columns.sourceKind[s];
    if (kind === FROM_OPEN) continue;
    const raw =
      kind === FROM_QUEEN ? (columns.sourceRef[s] as number) : columns.queens + (columns.sourceRef[s] as number);
    const weight = (columns.sourceShare[s] as number) * (kind === FROM_QUEEN ? 0.5 : 1);
    const known = into.older.subarray(first, at).indexOf(raw);
    if (known >= 0) into.weight[first + known] = (into.weight[first + known] as number) + weight;
    else {
      into.older[at] = raw;
      into.weight[at++] = weight;
    }
  }
  return at;
}

/**
 * Levels of the nodes (0 without older neighbours, else one above the highest of them; of no use with loops), and every loop met, as the raw numbers
 * on it. One pass over the terms.
 */
export function levelsOf(nodes: RawNodes): { level: Int32Array; loops: number[][] } {
  const level = new Int32Array(nodes.count).fill(NONE);
  const next = nodes.start.slice();
  const path = new Int32Array(nodes.count);
  const onPath = new Uint8Array(nodes.count);
  const loops: number[][] = [];
  for (let root = 0; root < nodes.count; root++) {
    if (level[root] !== NONE) continue;
    let depth = 0;
    path[0] = root;
    onPath[root] = 1;
    while (depth >= 0) {
      const node = path[depth] as number;
      const term = next[node] as number;
      if (term === nodes.start[node + 1]) {
        level[node] = ownLevel(nodes, level, node);
        onPath[node] = 0;
        depth--;
        continue;
      }
      next[node] = term + 1;
      const older = nodes.older[term] as number;
      if (onPath[older] === 1) loops.push(Array.from(path.subarray(path.indexOf(older), depth + 1)));
      else if (level[older] === NONE) {
        path[++depth] = older;
        onPath[older] = 1;
      }
    }
  }
  return { level, loops };
}

function ownLevel(nodes: RawNodes, level: Int32Array, node: number): number {
  let highest = -1;
  for (let k = nodes.start[node] as number; k < (nodes.start[node + 1] as number); k++) {
    highest = Math.max(highest, level[nodes.older[k] as number] as number);
  }
  return highest + 1;
}

/**
 * Raw numbers in an order of rising level; within a level those with descendants first (so that walks up the pedigree stay in little
 * memory), and then by their first older neighbour (so that sisters stand together).
 */
export function orderOf(nodes: RawNodes, level: Int32Array): Int32Array {
  const first = new Int32Array(nodes.count);
  const key = new Int32Array(nodes.count).fill(1);
  for (let k = 0; k < nodes.older.length; k++) key[nodes.older[k] as number] = 0;
  const identity = new Int32Array(nodes.count);
  for (let i = 0; i < nodes.count; i++) {
    identity[i] = i;
    first[i] = nodes.start[i] === nodes.start[i + 1] ? 0 : 1 + (nodes.older[nodes.start[i] as number] as number);
    key[i] = 2 * (level[i] as number) + (key[i] as number);
  }
  return sortBy(sortBy(identity, first), key);
}

/** Stable counting sort of `items` (all of 0 … n−1, in some order) by `key[item]` ≥ 0. */
function sortBy(items: Int32Array, key: Int32Array): Int32Array {
  let most = 0;
  for (let i = 0; i < key.length; i++) if ((key[i] as number) > most) most = key[i] as number;
  const place = new Int32Array(most + 2);
  for (let i = 0; i < key.length; i++) place[(key[i] as number) + 1] = (place[(key[i] as number) + 1] as number) + 1;
  for (let k = 1; k < place.length; k++) place[k] = (place[k] as number) + (place[k - 1] as number);
  const out = new Int32Array(items.length);
  for (let i = 0; i < items.length; i++) {
    const item = items[i] as number;
    const k = key[item] as number;
    out[place[k] as number] = item;
    place[k] = (place[k] as number) + 1;
  }
  return out;
}
