/**
 * Fill-reducing order by approximate minimum degree on a quotient graph: Amestoy, Davis and Duff 1996 (SIAM J Matrix Anal Appl 17:886), written from
 * the paper. Their quotient graph begins with edges between variables; ours takes each of them as an element of two, so that a variable is only ever
 * adjacent to elements. Kept from the paper: approximate external degrees, element absorption (also aggressive), mass
 * elimination, and merging of indistinguishable variables found by hashing.
 */
import { filledInts, type Growing, growingInts, pushInt } from '../csv/growing.ts';
import type { Cliques } from './cliques.ts';

/**
 * `order[k]` is the vertex eliminated k-th; vertices of equal `group` (by vertex) were eliminated at one stroke and lie together: they have one
 * structure.
 */
export type Elimination = { order: Int32Array; group: Int32Array };

type Graph = {
  readonly n: number;
  /** Weight of each principal variable; 0 once it was merged or eliminated. */
  readonly nv: Int32Array;
  /**
   * Elements of each variable, `elements[elementStart[v] …]`, `elementCount[v]` of them: never more than at first, because a pivot absorbs one of
   * each.
   */
  readonly elements: Int32Array;
  readonly elementStart: Int32Array;
  readonly elementCount: Int32Array;
  /**
   * Variables of each element, `members.values[memberStart[e] … memberEnd[e]−1]`, while it is alive. Cliques first, then the elements made by
   * pivots.
   */
  readonly members: Growing<Int32Array>;
  readonly memberStart: Int32Array;
  readonly memberEnd: Int32Array;
  readonly isAlive: Uint8Array;
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
  /** Variables of one hash, in the order they came: first and last of each (of the pivot that marked it), the next of each, and hashes. */
  readonly bucketOf: Int32Array;
  readonly bucketFirst: Int32Array;
  readonly bucketLast: Int32Array;
  readonly bucketNext: Int32Array;
  readonly hash: Int32Array;
  /** Variable each merged variable went into. */
  readonly mergedInto: Int32Array;
};

/**
 * The order of elimination of all `size` vertices. Deterministic; ties go to the vertex that was put last into its list.
 * Both vertices of the example have the same neighbours: they are eliminated at one stroke.
 * @example minimumDegree(workedCliques).group // [0, 0]
 */
export function minimumDegree(cliques: Cliques): Elimination {
  const pairs = pairsOf(cliques);
  const g = makeGraph(pairs);
  const n = cliques.size;
  const inPivot = new Int32Array(n).fill(-1);
  const order: number[] = [];
  const group = new Int32Array(n);
  let lowest = 0;
  let left = cliques.weight.reduce((sum, weight) => sum + weight, 0);
  let pivotNumber = 0;
  for (let element = pairs.count; left > 0; element++) {
    while ((g.head[lowest] as number) < 0) lowest++;
    const p = g.head[lowest] as number;
    takeOut(g, p);
    gatherPivot(g, p, element, inPivot);
    const eliminated = [p];
    updateNeighbours(g, { p, element, eliminated, left });
    for (const v of eliminated) {
      group[v] = pivotNumber;
      left -= g.nv[v] as number;
      g.nv[v] = 0;
    }
    order.push(...eliminated);
    lowest = Math.max(0, Math.min(lowest, lowestOf(g, element)));
    pivotNumber++;
    g.elementCount[p] = 0;
  }
  return withMerged(g, order, group);
}

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
  const elementStart = new Int32Array(n + 1);
  for (const v of member) elementStart[v + 1] = (elementStart[v + 1] as number) + 1;
  for (let v = 0; v < n; v++) elementStart[v + 1] = (elementStart[v + 1] as number) + (elementStart[v] as number);
  const elements = new Int32Array(member.length);
  const elementCount = new Int32Array(n);
  const total = weight.reduce((sum, w) => sum + w, 0);
  const room = count + n;
  const elementWeight = new Int32Array(room);
  const members = growingInts(4 * member.length);
  members.values.set(member);
  members.size = member.length;
  for (let e = 0; e < count; e++) {
    for (let m = start[e] as number; m < (start[e + 1] as number); m++) {
      const v = member[m] as number;
      elements[(elementStart[v] as number) + (elementCount[v] as number)] = e;
      elementCount[v] = (elementCount[v] as number) + 1;
      elementWeight[e] = (elementWeight[e] as number) + (weight[v] as number);
    }
  }
  const memberStart = new Int32Array(room);
  const memberEnd = new Int32Array(room);
  memberStart.set(start.subarray(0, count));
  memberEnd.set(start.subarray(1, count + 1));
  const g: Graph = {
    n,
    nv: Int32Array.from(weight),
    elements,
    elementStart,
    elementCount,
    members,
    memberStart,
    memberEnd,
    isAlive: new Uint8Array(room).fill(1, 0, count),
    elementWeight,
    stamp: new Int32Array(room).fill(-1),
    outside: new Int32Array(room),
    degree: new Int32Array(n),
    head: new Int32Array(total + 1).fill(-1),
    next: new Int32Array(n).fill(-1),
    previous: new Int32Array(n).fill(-1),
    bucketOf: new Int32Array(n).fill(-1),
    bucketFirst: new Int32Array(n),
    bucketLast: new Int32Array(n),
    bucketNext: new Int32Array(n),
    hash: new Int32Array(n),
    mergedInto: new Int32Array(n).fill(-1),
  };
  for (let v = 0; v < n; v++) {
    const from = elementStart[v] as number;
    let degree = 0;
    for (let k = from; k < from + (elementCount[v] as number); k++)
      degree += (elementWeight[elements[k] as number] as number) - (weight[v] as number);
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

/** L_p: the variables of all elements of p, without p, become the new element; those elements are absorbed. */
function gatherPivot(g: Graph, p: number, element: number, inPivot: Int32Array): void {
  const { members, nv, elements, memberStart, memberEnd } = g;
  memberStart[element] = members.size;
  inPivot[p] = element;
  const from = g.elementStart[p] as number;
  for (let k = from; k < from + (g.elementCount[p] as number); k++) {
    const e = elements[k] as number;
    for (let m = memberStart[e] as number; m < (memberEnd[e] as number); m++) {
      const v = members.values[m] as number;
      if (inPivot[v] === element || (nv[v] as number) === 0) continue;
      inPivot[v] = element;
      pushInt(members, v);
    }
    g.isAlive[e] = 0;
  }
  memberEnd[element] = members.size;
  g.isAlive[element] = 1;
}

type Step = { p: number; element: number; eliminated: number[]; left: number };

function updateNeighbours(g: Graph, { p, element, eliminated, left }: Step): void {
  const { nv, elementCount } = g;
  const list = g.members.values;
  const from = g.memberStart[element] as number;
  const to = g.memberEnd[element] as number;
  let weight = 0;
  for (let m = from; m < to; m++) {
    const v = list[m] as number;
    takeOut(g, v);
    weight += nv[v] as number;
    dropAbsorbed(g, v);
  }
  measureOutside(g, element);
  let remaining = weight;
  for (let m = from; m < to; m++) {
    const v = list[m] as number;
    const hash = compress(g, v, element);
    if ((elementCount[v] as number) === 1) {
      eliminated.push(v); // adjacent to the new element only: goes with the pivot
      remaining -= nv[v] as number;
    } else putInBucket(g, v, hash, element);
  }
  let kept = from;
  for (let m = from; m < to; m++) {
    const v = list[m] as number;
    if ((nv[v] as number) === 0 || (elementCount[v] as number) === 1) continue;
    mergeAlike(g, v);
    list[kept++] = v;
  }
  g.memberEnd[element] = kept;
  g.elementWeight[element] = remaining;
  const after = left - (nv[p] as number) - (weight - remaining);
  for (let m = from; m < kept; m++) {
    const v = list[m] as number;
    g.degree[v] = newDegree(g, v, { element, remaining, after });
    putIn(g, v);
  }
}

/** Takes elements that were absorbed out of a variable's list. */
function dropAbsorbed({ elements, elementStart, elementCount, isAlive }: Graph, v: number): void {
  const from = elementStart[v] as number;
  const to = from + (elementCount[v] as number);
  let kept = from;
  for (let k = from; k < to; k++) {
    const e = elements[k] as number;
    if (isAlive[e] === 1) elements[kept++] = e;
  }
  elementCount[v] = kept - from;
}

/** |L_e \ L_p| of every element next to L_p (algorithm 2 of the paper). */
function measureOutside(g: Graph, element: number): void {
  const { elements, elementStart, elementCount, nv, stamp, outside, elementWeight } = g;
  const list = g.members.values;
  for (let m = g.memberStart[element] as number; m < (g.memberEnd[element] as number); m++) {
    const v = list[m] as number;
    const weight = nv[v] as number;
    const from = elementStart[v] as number;
    const to = from + (elementCount[v] as number);
    for (let k = from; k < to; k++) {
      const e = elements[k] as number;
      if (stamp[e] !== element) {
        stamp[e] = element;
        outside[e] = (elementWeight[e] as number) - weight;
      } else outside[e] = (outside[e] as number) - weight;
    }
  }
}

/** The elements of v that reach outside L_p, and the new one; answers a hash of the list. Elements that do not are absorbed. */
function compress(
  { elements, elementStart, elementCount, isAlive, outside }: Graph,
  v: number,
  element: number,
): number {
  const from = elementStart[v] as number;
  const to = from + (elementCount[v] as number);
  let kept = from;
  let hash = element;
  for (let k = from; k < to; k++) {
    const e = elements[k] as number;
    if (isAlive[e] === 0) continue;
    if ((outside[e] as number) === 0) {
      isAlive[e] = 0;
      continue;
    }
    elements[kept++] = e;
    hash = (hash + Math.imul(e, 0x9e3779b1)) | 0;
  }
  elements[kept] = element;
  elementCount[v] = kept + 1 - from;
  return hash;
}

/** Puts a variable behind those of its hash that came before it at this pivot. */
function putInBucket(g: Graph, v: number, hash: number, element: number): void {
  const bucket = (hash >>> 0) % g.n;
  g.hash[v] = hash;
  g.bucketNext[v] = -1;
  if (g.bucketOf[bucket] === element) g.bucketNext[g.bucketLast[bucket] as number] = v;
  else {
    g.bucketOf[bucket] = element;
    g.bucketFirst[bucket] = v;
  }
  g.bucketLast[bucket] = v;
}

/** Merges the variables behind v in its bucket that have the same elements into it. */
function mergeAlike(g: Graph, v: number): void {
  for (let other = g.bucketNext[v] as number; other >= 0; other = g.bucketNext[other] as number) {
    if ((g.nv[other] as number) === 0 || g.hash[other] !== g.hash[v] || !sameElements(g, v, other)) continue;
    g.nv[v] = (g.nv[v] as number) + (g.nv[other] as number);
    g.nv[other] = 0;
    g.mergedInto[other] = v;
    g.elementCount[other] = 0;
  }
}

/** Whether two variables have the same elements; both lists keep the order in which they were made, the older first. */
function sameElements({ elements, elementStart, elementCount }: Graph, v: number, other: number): boolean {
  const count = elementCount[v] as number;
  if (count !== elementCount[other]) return false;
  const [from, second] = [elementStart[v] as number, elementStart[other] as number];
  for (let k = 0; k < count; k++) if (elements[from + k] !== elements[second + k]) return false;
  return true;
}

/** The least of the three bounds on the external degree (equation 3 of the paper). */
function newDegree(g: Graph, v: number, step: { element: number; remaining: number; after: number }): number {
  const { elements, elementStart, elementCount, isAlive, outside } = g;
  const own = g.nv[v] as number;
  const inside = step.remaining - own;
  let sum = inside;
  const from = elementStart[v] as number;
  for (let k = from; k < from + (elementCount[v] as number); k++) {
    const e = elements[k] as number;
    if (e !== step.element && isAlive[e] === 1) sum += outside[e] as number;
  }
  return Math.max(0, Math.min(sum, (g.degree[v] as number) + inside, step.after - own));
}

function lowestOf(g: Graph, element: number): number {
  let lowest = g.head.length - 1;
  for (let m = g.memberStart[element] as number; m < (g.memberEnd[element] as number); m++)
    lowest = Math.min(lowest, g.degree[g.members.values[m] as number] as number);
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
