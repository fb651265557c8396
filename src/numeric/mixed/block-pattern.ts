import type { MixedSystem } from './system.ts';

/** Couplings of each node with older ones: `older[start[i] … start[i+1]−1]`, rising and each once; `start` has `size` + 1 numbers. */
export type BlockPattern = { readonly size: number; readonly start: Int32Array; readonly older: Int32Array };

/** Pairs beyond this number of members of one feature are left out of the pattern. */
const MOST_MEMBERS = 4;

/**
 * The pattern of a system: the recursion's own terms, the pairs that stand together in a feature (of up to four nodes), and those of a record whose
 * two features have one node each. Time and memory: the pairs, sorted.
 * @example blockPattern(workedSystem) // { size: 2, start: [0, 0, 1], older: [0] }
 */
export function blockPattern(system: MixedSystem): BlockPattern {
  const { recursion, features, observations } = system;
  const size = recursion.size;
  const pairs: number[] = [];
  const add = (a: number, b: number) => {
    if (a !== b) pairs.push(Math.max(a, b), Math.min(a, b));
  };
  for (let f = 0; f < features.count; f++) {
    const from = features.start[f] as number;
    const to = features.start[f + 1] as number;
    if (to - from > MOST_MEMBERS) continue;
    for (let k = from; k < to; k++)
      for (let l = from; l < k; l++) add(features.node[k] as number, features.node[l] as number);
  }
  for (let r = 0; r < observations.count; r++) {
    const a = soleNode(system, observations.left[r] as number);
    const b = soleNode(system, observations.right[r] as number);
    if (a >= 0 && b >= 0) add(a, b);
  }
  return packPattern(recursion, size, pairs);
}

/** The node of a feature with exactly one; −1 otherwise. */
function soleNode({ features }: MixedSystem, feature: number): number {
  if (feature < 0) return -1;
  const from = features.start[feature] as number;
  return (features.start[feature + 1] as number) - from === 1 ? (features.node[from] as number) : -1;
}

function packPattern(recursion: MixedSystem['recursion'], size: number, pairs: readonly number[]): BlockPattern {
  const count = new Int32Array(size + 1);
  const bump = (i: number) => {
    count[i + 1] = (count[i + 1] as number) + 1;
  };
  for (let i = 0; i < size; i++) count[i + 1] = (recursion.start[i + 1] as number) - (recursion.start[i] as number);
  for (let k = 0; k < pairs.length; k += 2) bump(pairs[k] as number);
  for (let i = 0; i < size; i++) count[i + 1] = (count[i + 1] as number) + (count[i] as number);
  const older = new Int32Array(count[size] as number);
  const next = count.slice();
  const put = (i: number, j: number) => {
    older[next[i] as number] = j;
    next[i] = (next[i] as number) + 1;
  };
  for (let i = 0; i < size; i++) {
    for (let k = recursion.start[i] as number; k < (recursion.start[i + 1] as number); k++)
      put(i, recursion.older[k] as number);
  }
  for (let k = 0; k < pairs.length; k += 2) put(pairs[k] as number, pairs[k + 1] as number);
  return withoutDoubles(size, count, older);
}

function withoutDoubles(size: number, from: Int32Array, all: Int32Array): BlockPattern {
  const start = new Int32Array(size + 1);
  let at = 0;
  for (let i = 0; i < size; i++) {
    const row = all.subarray(from[i] as number, from[i + 1] as number).sort();
    let last = -1;
    for (const j of row) {
      if (j !== last) all[at++] = j;
      last = j;
    }
    start[i + 1] = at;
  }
  return { size, start, older: all.slice(0, at) };
}

/**
 * Place of (i, j) in the pattern, or −1. Rows are short, so a plain search by halves.
 * @example placeOf(blockPattern(workedSystem), 1, 0) // 0
 */
export function placeOf({ start, older }: BlockPattern, i: number, j: number): number {
  let low = start[i] as number;
  let high = (start[i + 1] as number) - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const at = older[middle] as number;
    if (at === j) return middle;
    if (at < j) low = middle + 1;
    else high = middle - 1;
  }
  return -1;
}
