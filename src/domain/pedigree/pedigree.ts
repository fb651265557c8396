/**
 * Kinship of a stock of queens and gamete pools, exact, for every kind of mating.
 *
 * How to use it
 * ```ts
 * const laid = layPedigreeOf({                       // or layPedigree(stock) with a stock read from tables
 *   queens: [{ id: 'M' }, { id: 'A', pool: 'sA' }, { id: 'B', dam: 'A' }],
 *   pools: [{ id: 'sA', sources: [{ queen: 'M', share: 1, drones: 8 }] }],
 * });
 * if (laid.pedigree === null) return laid.problems;  // paths `queens.1.dam`, codes, names in values
 * inbreeding(laid.pedigree, 'B');                    // 0          kinship.ts
 * broodInbreeding(laid.pedigree, 'A');               // 0, null when nothing is written about her mating
 * relationship(laid.pedigree, 'A', 'B');             // 0.5        additive relationship; coancestry is half of it
 * plannedCross(laid.pedigree, { queen: 'B', sources: [{ queen: 'M', share: 1, drones: 10 }] }).inbreeding;   // 0.25
 * assumptionsOf(laid.pedigree);                      // what had to be taken for granted
 * ```
 *
 * Two kinds of node suffice: queens (diploid value u, variance 1 + F) and gamete pools (mean value g of the sperm in one
 * spermatheca, one homogenised batch or one drone; variance = half the probability that two of its sperm are alike by descent).
 * One recursion covers every mating (`x = Σ b·older + e`, independent e):
 *
 * | node | b | variance of e |
 * |---|---|---|
 * | founder queen | – | 1 |
 * | daughter of dam q and pool s | ½ q + 1 s | ¼(1−F_q) + ½ − A_ss |
 * | daughter of an unknown dam, whose drones came from pool s | 1 s | 1 − A_ss |
 * | group of J sisters | ½ q + 1 s | the same / J |
 * | pool of drones of mothers j, shares c_j, effective drones n_j | ½ c_j | Σ c_j² ¼(1−F_j)/n_j |
 * | n draws from pool p, share c | c | c² (½ − A_pp)/n |
 * | open drones, share c, alike with probability f | – | c² (½f + (½ − ½f)/n) |
 * | one of several sources with probabilities π | ½π_j or π_p | Σ π_k A_SS(k) − b'Ab |
 *
 * Drones met at random at a mating place are n draws from one pool of endlessly many drones of every mother there (`drones: Infinity`), see
 * decisions/0040.
 *
 * Gametes are on the haploid scale (a drone's value has variance ½): A(queen, pool) is their coancestry, and it is the
 * inbreeding of every daughter and worker of that mating. Derivation and its equality with the block form of Brascamp and Bijma
 * (2014, Genet Sel Evol 46:53) are tested in tests/golden/pedigree; gene dropping with explicit drones in tests/statistical.
 */

import { makeFounderSets } from '#numeric/recursion/founder-sets.ts';
import { makeWalk, type Recursion } from '#numeric/recursion/recursion.ts';
import type { Problem } from '#units/problem.ts';
import type { Assumption } from './assumption.ts';
import { checkDescent, type DescentProblemCode } from './check-descent.ts';
import { type FactProblemCode, gatherStock, type PedigreeFacts } from './facts.ts';
import { type Filling, fillVariances } from './fill-variances.ts';
import type { Pedigree } from './laid-pedigree.ts';
import { orderOf, type RawNodes, rawNodes } from './node-order.ts';
import { openVariance } from './sampling.ts';
import { NONE, OPEN_MATING_DRONES, type Stock } from './stock.ts';

/** What keeps a stock from being laid out: facts or descent that cannot be. */
export type PedigreeProblem = Problem<FactProblemCode | DescentProblemCode>;

/** A pedigree, or everything that keeps it from being one. */
export type Laid = { pedigree: Pedigree; problems: [] } | { pedigree: null; problems: PedigreeProblem[] };

/**
 * Lays out the kinship of plain facts: {@link gatherStock}, then {@link layPedigree}.
 * @example layPedigreeOf({ queens: [{ id: 'A' }, { id: 'B', dam: 'A' }], pools: [] }).pedigree.inbreeding // [0, 0]
 */
export function layPedigreeOf(facts: PedigreeFacts): Laid {
  const gathered = gatherStock(facts);
  return gathered.stock === null ? { pedigree: null, problems: gathered.problems } : layPedigree(gathered.stock);
}

/**
 * What keeps plain facts from being laid out, nothing when they can be; costs one pass, no variances.
 * The problems are those of {@link layPedigreeOf}, in their order.
 * @example descentProblems({ queens: [{ id: 'A', dam: 'A' }], pools: [] })[0].code // 'pedigree-loop'
 */
export function descentProblems(facts: PedigreeFacts): PedigreeProblem[] {
  const { stock, problems } = gatherStock(facts);
  return stock === null ? problems : checkDescent(stock, rawNodes(stock.columns)).problems;
}

/** What is known from before a change: which queen and pool of the old stock each new one is, NONE where it is new or written otherwise. */
export type Known = {
  before: Pedigree;
  queen: Int32Array;
  pool: Int32Array;
  /** Told how many nodes had to be worked out. */
  tell: (recomputed: number) => void;
};

/**
 * Lays out the kinship of a stock, or answers why its descent cannot be. Time grows with queens × ancestors, memory with queens.
 * @param known what a stock before a change had already, see {@link ./relay-pedigree.ts}
 * @example layPedigree(gatherStock(workedStock).stock).problems // []
 */
export function layPedigree(stock: Stock, known?: Known): Laid {
  const nodes = rawNodes(stock.columns);
  const { level, problems } = checkDescent(stock, nodes);
  if (problems.length > 0) return { pedigree: null, problems };
  return { pedigree: lay(stock, nodes, level, known), problems: [] };
}

/**
 * What was taken for granted, gathered with the facts or by the model (an open mating for a dam without one), each once, the facts' first.
 * @example assumptionsOf(workedPedigree()) // [{ code: 'open-source', pool: 'semen of Q3', share: 1 }]
 */
export function assumptionsOf(pedigree: Pedigree): Assumption[] {
  const { columns, names, assumptions } = pedigree.stock;
  const out = [...assumptions];
  const said = new Uint8Array(columns.queens);
  for (let i = 0; i < columns.queens; i++) {
    const dam = columns.dam[i] as number;
    if (dam === NONE || columns.fromPool[i] !== NONE || columns.carries[dam] !== NONE || said[dam] === 1) continue;
    said[dam] = 1;
    out.push({ code: 'open-mated', queen: names.queenName(dam), drones: OPEN_MATING_DRONES });
  }
  return out;
}

function lay(stock: Stock, nodes: RawNodes, rawLevel: Int32Array, known?: Known): Pedigree {
  const order = orderOf(nodes, rawLevel);
  const place = new Int32Array(nodes.count);
  for (let node = 0; node < nodes.count; node++) place[order[node] as number] = node;
  const recursion = renumbered(nodes, { order, place, rawLevel });
  const { queens, pools } = stock.columns;
  const filling: Filling = {
    stock,
    recursion,
    order,
    queenNode: place.slice(0, queens),
    poolNode: place.slice(queens, queens + pools),
    carriedNode: placed(nodes.carried, place),
    inbreeding: new Float64Array(queens),
    self: new Float64Array(nodes.count),
    walk: makeWalk(recursion),
    founders: makeFounderSets(recursion),
  };
  if (known === undefined) fillVariances(filling);
  else fillVariances(filling, takeOver(filling, known));
  const { order: _order, ...pedigree } = filling;
  return pedigree;
}

/** Numbers of the nodes a change does not reach, from the old pedigree; answers which those are (1). */
function takeOver(f: Filling, { before, queen, pool, tell }: Known): Uint8Array {
  const { recursion, order, self, inbreeding } = f;
  const { queens, pools } = f.stock.columns;
  const isKnown = new Uint8Array(recursion.size);
  let recomputed = 0;
  for (let node = 0; node < recursion.size; node++) {
    const raw = order[node] as number;
    const isOpen = raw >= queens + pools;
    const old = raw < queens ? (queen[raw] as number) : isOpen ? NONE : (pool[raw - queens] as number);
    let reached = old === NONE && !isOpen;
    for (let k = recursion.start[node] as number; k < (recursion.start[node + 1] as number); k++)
      if (isKnown[recursion.older[k] as number] === 0) reached = true;
    if (reached) {
      recomputed++;
      continue;
    }
    isKnown[node] = 1;
    if (isOpen) {
      recursion.own[node] = openVariance(OPEN_MATING_DRONES);
      self[node] = openVariance(OPEN_MATING_DRONES);
      continue;
    }
    const from = (raw < queens ? before.queenNode : before.poolNode)[old] as number;
    recursion.own[node] = before.recursion.own[from] as number;
    self[node] = before.self[from] as number;
    if (raw < queens) inbreeding[raw] = before.inbreeding[old] as number;
  }
  tell(recomputed);
  return isKnown;
}

/** Where raw numbers stand in the order. */
function placed(raw: Int32Array, place: Int32Array): Int32Array {
  const out = new Int32Array(raw.length);
  for (let i = 0; i < raw.length; i++) out[i] = place[raw[i] as number] as number;
  return out;
}

type Numbering = { order: Int32Array; place: Int32Array; rawLevel: Int32Array };

function renumbered(nodes: RawNodes, { order, place, rawLevel }: Numbering): Recursion {
  const start = new Int32Array(nodes.count + 1);
  const older = new Int32Array(nodes.older.length);
  const weight = new Float64Array(nodes.older.length);
  const level = new Int32Array(nodes.count);
  let at = 0;
  for (let node = 0; node < nodes.count; node++) {
    const raw = order[node] as number;
    level[node] = rawLevel[raw] as number;
    for (let k = nodes.start[raw] as number; k < (nodes.start[raw + 1] as number); k++) {
      older[at] = place[nodes.older[k] as number] as number;
      weight[at++] = nodes.weight[k] as number;
    }
    start[node + 1] = at;
  }
  return { size: nodes.count, start, older, weight, own: new Float64Array(nodes.count), level };
}
