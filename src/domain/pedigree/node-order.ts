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
 * Raw numbers are the queens', then the pools', then one open pool for each queen about whose mating nothing is written.
 * @example rawNodes(workedPedigree().stock.columns).count // 13; seven queens, four pools, open pools of C and Q4
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
 * @example levelsOf(rawNodes(workedPedigree().stock.columns)).level.slice(0, 7) // [0, 0, 0, 2, 2, 2, 2]; daughters stand above dam and pool
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
 * Raw numbers in an order of rising level; within a level those with descendants first (so that walks up the pedigree stay in little memory), and
 * then as their first older neighbours stand, so that sisters are together and one family after the other looks at dams side by side. O(terms).
 * @example const nodes = rawNodes(workedPedigree().stock.columns);
 * orderOf(nodes, levelsOf(nodes).level).at(-1) // 9; batch P, above everything
 */
export function orderOf(nodes: RawNodes, level: Int32Array): Int32Array {
  const { count, start, older } = nodes;
  const hasYounger = new Uint8Array(count);
  for (let k = 0; k < older.length; k++) hasYounger[older[k] as number] = 1;
  const bucketOf = (node: number) => 2 * (level[node] as number) + 1 - (hasYounger[node] as number);
  const first = firstBorn(nodes);
  let highest = 0;
  for (let i = 0; i < count; i++) if ((level[i] as number) > highest) highest = level[i] as number;
  const next = new Int32Array(2 * highest + 3);
  for (let i = 0; i < count; i++) next[bucketOf(i) + 1] = (next[bucketOf(i) + 1] as number) + 1;
  for (let b = 1; b < next.length; b++) next[b] = (next[b] as number) + (next[b - 1] as number);
  const out = new Int32Array(count);
  const put = (node: number) => {
    const bucket = bucketOf(node);
    const at = next[bucket] as number;
    out[at] = node;
    next[bucket] = at + 1;
  };
  for (let i = 0; i < count; i++) if (start[i] === start[i + 1]) put(i);
  // a bucket is full before it is reached: its nodes have their first older neighbours in those before
  for (let at = 0; at < count; at++) {
    const node = out[at] as number;
    for (let c = first.start[node] as number; c < (first.start[node + 1] as number); c++) put(first.node[c] as number);
  }
  return out;
}

/** The nodes whose first older neighbour each node is, rising: `node[start[i] … start[i+1]−1]`. */
function firstBorn({ count, start, older }: RawNodes): { start: Int32Array; node: Int32Array } {
  const below = new Int32Array(count + 1);
  let links = 0;
  for (let i = 0; i < count; i++) {
    if (start[i] === start[i + 1]) continue;
    const to = older[start[i] as number] as number;
    below[to] = (below[to] as number) + 1;
    links++;
  }
  for (let i = 1; i <= count; i++) below[i] = (below[i] as number) + (below[i - 1] as number);
  const node = new Int32Array(links);
  for (let i = count - 1; i >= 0; i--) {
    if (start[i] === start[i + 1]) continue;
    const to = older[start[i] as number] as number;
    const at = (below[to] as number) - 1;
    below[to] = at;
    node[at] = i;
  }
  return { start: below, node };
}
