/**
 * Fill-reducing order by approximate minimum degree on a quotient graph: Amestoy, Davis and Duff 1996 (SIAM J Matrix Anal Appl 17:886), written from
 * the paper. Their quotient graph begins with edges between variables; ours takes each of them as an element of two, so that a variable is only ever
 * adjacent to elements. Kept from the paper: approximate external degrees, element absorption (also aggressive), mass
 * elimination, and merging of indistinguishable variables found by hashing.
 */
import { filledInts, growingInts, pushInt } from '../csv/growing.ts';
import type { Cliques } from './cliques.ts';

/** `order[k]` is the vertex eliminated k-th; vertices of equal `group` were eliminated at one stroke (they have the same structure). */
export type Elimination = { order: Int32Array; group: Int32Array };

type Graph = {
  readonly n: number;
  /** Weight of each principal variable; 0 once it was merged or eliminated. */
  readonly nv: Int32Array;
  /** Elements of each variable. */
  readonly elements: Int32Array[];
  readonly elementCount: Int32Array;
  /** Variables of each element; null once absorbed. Cliques first, then the elements made by pivots. */
  readonly members: (Int32Array | null)[];
  /** Weighted size of each element. */
  readonly elementWeight: Int32Array;
  /** For the external sizes |L_e \ L_p|: stamp and value. */
  readonly stamp: Int32Array;
  readonly outside: Int32Array;
  readonly degree: Int32Array;
  /** Degree lists. */
  readonly head: Int32Array;
  readonly next: Int32Array;
  readonly previous: Int32Array;
  /** Variable each merged variable went into. */
  readonly mergedInto: Int32Array;
};

/** The order of elimination. Deterministic; ties go to the vertex that was put last into its list. */
export function minimumDegree(cliques: Cliques): Elimination {
  const g = makeGraph(pairsOf(cliques));
  const n = cliques.size;
  const inPivot = new Int32Array(n).fill(-1);
  const order: number[] = [];
  const group = new Int32Array(n);
  let lowest = 0;
  let left = cliques.weight.reduce((sum, weight) => sum + weight, 0);
  let pivotNumber = 0;
  const hashHead = new Map<number, number[]>();
  while (left > 0) {
    while ((g.head[lowest] as number) < 0) lowest++;
    const p = g.head[lowest] as number;
    takeOut(g, p);
    const element = g.members.length;
    const list = pivotMembers(g, p, inPivot);
    g.members.push(list);
    const eliminated = [p];
    updateNeighbours(g, { p, element, list, inPivot, eliminated, hashHead, left });
    for (const v of eliminated) {
      group[v] = pivotNumber;
      left -= g.nv[v] as number;
      g.nv[v] = 0;
    }
    order.push(...eliminated);
    lowest = Math.max(0, Math.min(lowest, lowestOf(g, list)));
    pivotNumber++;
    g.elements[p] = EMPTY;
  }
  return withMerged(g, order, group);
}

const EMPTY = new Int32Array(0);

/** Every pair of vertices that share a clique, once, as cliques of two: degrees that are sums over cliques would count neighbours several times. */
function pairsOf({ size, weight, count, start, member }: Cliques): Cliques {
  const cliqueStart = new Int32Array(size + 1);
  for (const v of member) cliqueStart[v + 1] = (cliqueStart[v + 1] as number) + 1;
  for (let v = 0; v < size; v++) cliqueStart[v + 1] = (cliqueStart[v + 1] as number) + (cliqueStart[v] as number);
  const next = cliqueStart.slice(0, size);
  const cliqueOf = new Int32Array(member.length);
  for (let c = 0; c < count; c++) {
    for (let m = start[c] as number; m < (start[c + 1] as number); m++) {
      const v = member[m] as number;
      const at = next[v] as number;
      next[v] = at + 1;
      cliqueOf[at] = c;
    }
  }
  const mark = new Int32Array(size).fill(-1);
  const pairs = growingInts(4 * size);
  for (let v = 0; v < size; v++) {
    for (let k = cliqueStart[v] as number; k < (cliqueStart[v + 1] as number); k++) {
      const c = cliqueOf[k] as number;
      for (let m = start[c] as number; m < (start[c + 1] as number); m++) {
        const other = member[m] as number;
        if (other <= v || mark[other] === v) continue;
        mark[other] = v;
        pushInt(pairs, v);
        pushInt(pairs, other);
      }
    }
  }
  const ends = filledInts(pairs);
  const pairStart = Int32Array.from({ length: ends.length / 2 + 1 }, (_, k) => 2 * k);
  return { size, weight, count: ends.length / 2, start: pairStart, member: ends };
}

function makeGraph({ size: n, weight, count, start, member }: Cliques): Graph {
  const elementCount = new Int32Array(n);
  for (const v of member) elementCount[v] = (elementCount[v] as number) + 1;
  const elements = Array.from({ length: n }, (_, v) => new Int32Array(elementCount[v] as number));
  elementCount.fill(0);
  const members: (Int32Array | null)[] = [];
  const total = weight.reduce((sum, w) => sum + w, 0);
  const room = count + n;
  const elementWeight = new Int32Array(room);
  for (let e = 0; e < count; e++) {
    const list = member.slice(start[e], start[e + 1]);
    members.push(list);
    for (const v of list) {
      (elements[v] as Int32Array)[elementCount[v] as number] = e;
      elementCount[v] = (elementCount[v] as number) + 1;
      elementWeight[e] = (elementWeight[e] as number) + (weight[v] as number);
    }
  }
  const g: Graph = {
    n,
    nv: Int32Array.from(weight),
    elements,
    elementCount,
    members,
    elementWeight,
    stamp: new Int32Array(room).fill(-1),
    outside: new Int32Array(room),
    degree: new Int32Array(n),
    head: new Int32Array(total + 1).fill(-1),
    next: new Int32Array(n).fill(-1),
    previous: new Int32Array(n).fill(-1),
    mergedInto: new Int32Array(n).fill(-1),
  };
  for (let v = 0; v < n; v++) {
    let degree = 0;
    for (let k = 0; k < (elementCount[v] as number); k++) {
      degree += (elementWeight[(elements[v] as Int32Array)[k] as number] as number) - (weight[v] as number);
    }
    g.degree[v] = degree;
    putIn(g, v);
  }
  return g;
}

function putIn(g: Graph, v: number): void {
  const degree = g.degree[v] as number;
  const first = g.head[degree] as number;
  g.next[v] = first;
  g.previous[v] = -1;
  if (first >= 0) g.previous[first] = v;
  g.head[degree] = v;
}

function takeOut(g: Graph, v: number): void {
  const before = g.previous[v] as number;
  const after = g.next[v] as number;
  if (before >= 0) g.next[before] = after;
  else g.head[g.degree[v] as number] = after;
  if (after >= 0) g.previous[after] = before;
}

/** L_p: the variables of all elements of p, without p; those elements are absorbed. */
function pivotMembers(g: Graph, p: number, inPivot: Int32Array): Int32Array {
  const list: number[] = [];
  const mark = g.members.length;
  inPivot[p] = mark;
  for (let k = 0; k < (g.elementCount[p] as number); k++) {
    const e = (g.elements[p] as Int32Array)[k] as number;
    for (const v of g.members[e] ?? EMPTY) {
      if (inPivot[v] === mark || (g.nv[v] as number) === 0) continue;
      inPivot[v] = mark;
      list.push(v);
    }
    g.members[e] = null;
  }
  return Int32Array.from(list);
}

type Step = {
  p: number;
  element: number;
  list: Int32Array;
  inPivot: Int32Array;
  eliminated: number[];
  hashHead: Map<number, number[]>;
  left: number;
};

function updateNeighbours(g: Graph, step: Step): void {
  const { element, list, eliminated, hashHead } = step;
  let weight = 0;
  for (const v of list) {
    takeOut(g, v);
    weight += g.nv[v] as number;
    dropAbsorbed(g, v);
  }
  measureOutside(g, element, list);
  hashHead.clear();
  let remaining = weight;
  for (const v of list) {
    const hash = compress(g, v, element);
    if ((g.elementCount[v] as number) === 1) {
      eliminated.push(v); // adjacent to the new element only: goes with the pivot
      remaining -= g.nv[v] as number;
      continue;
    }
    const bucket = hashHead.get(hash);
    if (bucket) bucket.push(v);
    else hashHead.set(hash, [v]);
  }
  for (const bucket of hashHead.values()) if (bucket.length > 1) mergeAlike(g, bucket);
  g.elementWeight[element] = remaining;
  const kept = list.filter((v) => (g.nv[v] as number) > 0 && !(g.elementCount[v] === 1));
  g.members[element] = kept;
  const after = step.left - (g.nv[step.p] as number) - (weight - remaining);
  for (const v of kept) {
    g.degree[v] = newDegree(g, v, { element, remaining, after });
    putIn(g, v);
  }
}

/** Takes elements that were absorbed out of a variable's list. */
function dropAbsorbed(g: Graph, v: number): void {
  const list = g.elements[v] as Int32Array;
  let kept = 0;
  for (let k = 0; k < (g.elementCount[v] as number); k++) {
    const e = list[k] as number;
    if (g.members[e] !== null) list[kept++] = e;
  }
  g.elementCount[v] = kept;
}

/** |L_e \ L_p| of every element next to L_p (algorithm 2 of the paper). */
function measureOutside(g: Graph, element: number, list: Int32Array): void {
  for (const v of list) {
    const weight = g.nv[v] as number;
    const elements = g.elements[v] as Int32Array;
    for (let k = 0; k < (g.elementCount[v] as number); k++) {
      const e = elements[k] as number;
      if (g.stamp[e] !== element) {
        g.stamp[e] = element;
        g.outside[e] = g.elementWeight[e] as number;
      }
      g.outside[e] = (g.outside[e] as number) - weight;
    }
  }
}

/** The elements of v that reach outside L_p, and the new one; answers a hash of the list. Elements that do not are absorbed. */
function compress(g: Graph, v: number, element: number): number {
  const list = g.elements[v] as Int32Array;
  let kept = 0;
  let hash = element;
  for (let k = 0; k < (g.elementCount[v] as number); k++) {
    const e = list[k] as number;
    if (g.members[e] === null) continue;
    if ((g.outside[e] as number) === 0) {
      g.members[e] = null;
      continue;
    }
    list[kept++] = e;
    hash = (hash + Math.imul(e, 0x9e3779b1)) | 0;
  }
  if (kept === list.length) {
    const wider = new Int32Array(kept + 1);
    wider.set(list);
    g.elements[v] = wider;
  }
  (g.elements[v] as Int32Array)[kept] = element;
  g.elementCount[v] = kept + 1;
  return hash;
}

/** Merges variables with the same elements into the first of them. */
function mergeAlike(g: Graph, bucket: number[]): void {
  for (let a = 0; a < bucket.length; a++) {
    const v = bucket[a] as number;
    if ((g.nv[v] as number) === 0) continue;
    for (let b = a + 1; b < bucket.length; b++) {
      const other = bucket[b] as number;
      if ((g.nv[other] as number) === 0 || !sameElements(g, v, other)) continue;
      g.nv[v] = (g.nv[v] as number) + (g.nv[other] as number);
      g.nv[other] = 0;
      g.mergedInto[other] = v;
      g.elements[other] = EMPTY;
    }
  }
}

function sameElements(g: Graph, v: number, other: number): boolean {
  const count = g.elementCount[v] as number;
  if (count !== g.elementCount[other]) return false;
  const list = g.elements[v] as Int32Array;
  const second = g.elements[other] as Int32Array;
  for (let k = 0; k < count; k++) if (second.subarray(0, count).indexOf(list[k] as number) < 0) return false;
  return true;
}

/** The least of the three bounds on the external degree (equation 3 of the paper). */
function newDegree(g: Graph, v: number, step: { element: number; remaining: number; after: number }): number {
  const own = g.nv[v] as number;
  const inside = step.remaining - own;
  let sum = inside;
  const list = g.elements[v] as Int32Array;
  for (let k = 0; k < (g.elementCount[v] as number); k++) {
    const e = list[k] as number;
    if (e !== step.element && g.members[e] !== null) sum += g.outside[e] as number;
  }
  return Math.max(0, Math.min(sum, (g.degree[v] as number) + inside, step.after - own));
}

function lowestOf(g: Graph, list: Int32Array): number {
  let lowest = g.head.length - 1;
  for (const v of list) if ((g.nv[v] as number) > 0) lowest = Math.min(lowest, g.degree[v] as number);
  return lowest;
}

/** The order with merged variables beside the one they went into. */
function withMerged(g: Graph, order: readonly number[], group: Int32Array): Elimination {
  const first = new Int32Array(g.n).fill(-1);
  const next = new Int32Array(g.n).fill(-1);
  const rootOf = (v: number): number => {
    let root = v;
    while ((g.mergedInto[root] as number) >= 0) root = g.mergedInto[root] as number;
    return root;
  };
  for (let v = g.n - 1; v >= 0; v--) {
    if ((g.mergedInto[v] as number) < 0) continue;
    const root = rootOf(v);
    next[v] = first[root] as number;
    first[root] = v;
    group[v] = group[root] as number;
  }
  const out = new Int32Array(g.n);
  let at = 0;
  for (const v of order) {
    out[at++] = v;
    for (let m = first[v] as number; m >= 0; m = next[m] as number) out[at++] = m;
  }
  return { order: out, group };
}
