/**
 * Prediction error variances of queens, from the inverse of the parents-only equations, with what was absorbed put back.
 *
 * For a queen Q and her pool S let (u_Q, g_S) = P x + δ, x what was kept, δ what was absorbed (variance Σ, none where kept). With a record
 * `y = B(b, x) + Λδ + e`, V = ΛΣΛ' + R and W = V⁻¹: `var(error) = M C⁻¹ M' + Σ − ΣΛ'WΛΣ`, M = P − ΣΛ'WB. Checked against dense algebra.
 *
 * Runs once a queen, so everything is written into workspaces made once.
 */
import { classesOf } from '#numeric/mixed/system.ts';
import { inverseBlock, type SelectedInverse } from '#numeric/sparse/selected-inverse.ts';
import type { Equations } from './equations.ts';
import { absorbedRow } from './record-features.ts';

/** Error covariance of the effects of a queen, then of the pool she carries: `2q × 2q`. */
export type PairError = Float64Array;

/** What one queen's error variances rest on: kept nodes, then (with a record) the class of the leading effect and further levels. */
export type Support = {
  /** Vertices: nodes by number, then classes, then levels, as in the assembled equations. */
  readonly vertex: Int32Array;
  /** Where each vertex's columns begin. */
  readonly at: Int32Array;
  nodes: number;
  count: number;
  width: number;
  /** Record of the queen, −1 = none. */
  record: number;
};

/** Writes the inverse of the equations over a support, `width × width`. */
export type InverseOver = (support: Support, out: Float64Array) => void;

/**
 * Sets of kept nodes whose covariances the error variances need beside those the records couple: one list a queen, by queen index, of what she and the pool
 * she carries are made of; each node once; empty for a queen and pool who both descend from nothing kept.
 * @example askedSets(workedEquations())[2].length // 1; founder C, whose pool is open
 */
export function askedSets(equations: Equations): number[][] {
  const { descent } = equations;
  return Array.from(descent.queenRow, (row, i) => {
    const nodes: number[] = [];
    for (const side of [row, descent.carriedRow[i] as number]) {
      eachTerm(equations, side, absorbedRow(equations, side), (node) => {
        if (!nodes.includes(node)) nodes.push(node);
      });
    }
    return nodes;
  });
}

/**
 * Reads the exact inverse over supports out of the selected inverse, in squares of the traits' units. The pattern must have been made with {@link askedSets},
 * so that every pair asked about is there. Writes all of `width × width`.
 * @example const equations = workedEquations(); const pattern = directPattern(equations.system, { asked: askedSets(equations) });
 * assemble(equations.system, pattern); const pevWorker = [];
 * eachPairError(equations, exactOver(equations, invertDirect(factorDirect(pattern))), (_, error) => pevWorker.push(error[0]));
 * pevWorker[0] // 5.95748
 */
export function exactOver(equations: Equations, inverse: SelectedInverse): InverseOver {
  const { system } = equations;
  const most = Math.max(system.effects, system.traits);
  const block = new Float64Array(most * most);
  const widthOf = (v: number) => (v < system.recursion.size ? system.effects : system.traits);
  return (support, out) => {
    for (let a = 0; a < support.count; a++) {
      const v = support.vertex[a] as number;
      for (let b = 0; b <= a; b++) {
        const w = support.vertex[b] as number;
        inverseBlock(inverse, v, w, block);
        const [high, wide] = [widthOf(v), widthOf(w)];
        for (let i = 0; i < high; i++) {
          for (let j = 0; j < wide; j++) {
            const [row, column] = [(support.at[a] as number) + i, (support.at[b] as number) + j];
            out[row * support.width + column] = block[i * wide + j] as number;
            out[column * support.width + row] = block[i * wide + j] as number;
          }
        }
      }
    }
  };
}

/**
 * Class (0, 1, …) of the leading effect of every record, in the order of the equations; all 0 without an effect, empty without records.
 * @example classOfRecords(workedEquations()) // [0, 0, 0, 1, 1, 1]; three colonies in either yard
 */
export function classOfRecords({ system }: Equations): Int32Array {
  const { classStart, count } = system.observations;
  const out = new Int32Array(count);
  for (let c = 0; c + 1 < classStart.length; c++) out.fill(c, classStart[c], classStart[c + 1]);
  return out;
}

/** Room for the largest support: every vertex a pair of rows and a record may touch. */
function largestSupport({ system, descent }: Equations): number {
  const { features, factors } = system;
  const { start } = descent.part.recursion;
  let terms = 0;
  for (let i = 0; i + 1 < start.length; i++) terms = Math.max(terms, (start[i + 1] as number) - (start[i] as number));
  for (let i = 0; i + 1 < descent.part.start.length; i++) {
    terms = Math.max(terms, (descent.part.start[i + 1] as number) - (descent.part.start[i] as number));
  }
  let members = 0;
  for (let f = 0; f < features.count; f++)
    members = Math.max(members, (features.start[f + 1] as number) - (features.start[f] as number));
  return 2 * Math.max(1, terms) + 2 * members + 1 + factors;
}

type Work = {
  readonly equations: Equations;
  readonly classOf: Int32Array;
  readonly support: Support;
  /** M, `2q × width`. */
  readonly m: Float64Array;
  readonly sigma: Float64Array;
  readonly loaded: Float64Array;
  readonly gain: Float64Array;
  readonly inverse: Float64Array;
  readonly product: Float64Array;
  readonly out: Float64Array;
};

function makeWork(equations: Equations): Work {
  const { traits: t, effects: q } = equations.system;
  const room = largestSupport(equations);
  const width = room * q;
  return {
    equations,
    classOf: classOfRecords(equations),
    support: { vertex: new Int32Array(room), at: new Int32Array(room), nodes: 0, count: 0, width: 0, record: -1 },
    m: new Float64Array(2 * q * width),
    sigma: new Float64Array(4 * q * q),
    loaded: new Float64Array(2 * q * t),
    gain: new Float64Array(2 * q * t),
    inverse: new Float64Array(width * width),
    product: new Float64Array(2 * q * width),
    out: new Float64Array(4 * q * q),
  };
}

/**
 * Works out the error covariances (2q × 2q, row after row, in squares of the traits' units) of every queen and her pool, one after another in the order of
 * queen indices, into `visit`; the array is used again, so copy what is kept. The formula stands at the head of this file: own derivation from the absorption
 * of Quaas and Pollak 1980, J Anim Sci 51:1277.
 * @example const pevQueen = []; eachPairError(workedEquations(), workedInverse(), (_, error) => pevQueen.push(error[5]));
 * pevQueen.slice(0, 2) // [3.61733, 3.46986]; row 1, column 1 of 4 × 4
 */
export function eachPairError(
  equations: Equations,
  inverseOver: InverseOver,
  visit: (queen: number, error: PairError) => void,
): void {
  const work = makeWork(equations);
  for (let i = 0; i < equations.descent.queenRow.length; i++) {
    pairError(work, inverseOver, i);
    visit(i, work.out);
  }
}

function pairError(work: Work, inverseOver: InverseOver, queen: number): void {
  const { equations, support } = work;
  const { descent, recordOf } = equations;
  const queenRow = descent.queenRow[queen] as number;
  const poolRow = descent.carriedRow[queen] as number;
  const [absorbedQueen, absorbedPool] = [absorbedRow(equations, queenRow), absorbedRow(equations, poolRow)];
  support.record = Math.max(
    absorbedQueen < 0 ? -1 : (recordOf[absorbedQueen] as number),
    absorbedPool < 0 ? -1 : (recordOf[absorbedPool] as number),
  );
  gatherSupport(work, { queenRow, poolRow, absorbedQueen, absorbedPool });
  work.m.fill(0, 0, 2 * equations.system.effects * support.width);
  addTerms(work, queenRow, { absorbed: absorbedQueen, side: 0 });
  addTerms(work, poolRow, { absorbed: absorbedPool, side: 1 });
  absorbedVariance(work, absorbedQueen, absorbedPool);
  if (support.record >= 0) takeRecord(work, absorbedQueen >= 0, absorbedPool >= 0);
  inverseOver(support, work.inverse);
  throughInverse(work);
}

/** Place of a vertex in the support, put in when new. */
function placeIn(support: Support, v: number, wide: number): number {
  for (let k = 0; k < support.count; k++) if (support.vertex[k] === v) return support.at[k] as number;
  const at = support.width;
  support.vertex[support.count] = v;
  support.at[support.count] = at;
  support.count++;
  support.width += wide;
  return at;
}

type Sides = { queenRow: number; poolRow: number; absorbedQueen: number; absorbedPool: number };

function gatherSupport(work: Work, { queenRow, poolRow, absorbedQueen, absorbedPool }: Sides): void {
  const { equations, support } = work;
  const { system } = equations;
  const { features, observations, effects: q, traits: t, factors, recursion } = system;
  support.count = 0;
  support.width = 0;
  eachTerm(equations, queenRow, absorbedQueen, (node) => placeIn(support, node, q));
  eachTerm(equations, poolRow, absorbedPool, (node) => placeIn(support, node, q));
  const r = support.record;
  support.nodes = support.count;
  if (r < 0) return;
  for (let side = 0; side < 2; side++) {
    const f = (side === 0 ? observations.left[r] : observations.right[r]) as number;
    if (f < 0) continue;
    for (let k = features.start[f] as number; k < (features.start[f + 1] as number); k++)
      placeIn(support, features.node[k] as number, q);
  }
  support.nodes = support.count;
  placeIn(support, recursion.size + (work.classOf[r] as number), t);
  for (let k = 0; k < factors; k++) {
    const level = observations.levels[r * factors + k] as number;
    if (level >= 0) placeIn(support, recursion.size + classesOf(system) + level, t);
  }
}

/** The kept nodes a row is a combination of: itself, its parents when it was absorbed, or what replaced it. */
function eachTerm(
  { descent, kept }: Equations,
  fullRow: number,
  absorbed: number,
  visit: (node: number, weight: number) => void,
): void {
  const { part } = descent;
  if (absorbed >= 0) {
    const { start, older, weight } = part.recursion;
    for (let k = start[absorbed] as number; k < (start[absorbed + 1] as number); k++)
      visit(kept[older[k] as number] as number, weight[k] as number);
    return;
  }
  for (let k = part.start[fullRow] as number; k < (part.start[fullRow + 1] as number); k++) {
    visit(kept[part.row[k] as number] as number, part.weight[k] as number);
  }
}

function addTerms(
  { equations, support, m }: Work,
  fullRow: number,
  { absorbed, side }: { absorbed: number; side: number },
): void {
  const q = equations.system.effects;
  const { width } = support;
  eachTerm(equations, fullRow, absorbed, (node, weight) => {
    const at = placeIn(support, node, q);
    for (let e = 0; e < q; e++) {
      const place = (side * q + e) * width + at + e;
      m[place] = (m[place] as number) + weight;
    }
  });
}

/** Σ: own variance of each absorbed side times G. */
function absorbedVariance({ equations, sigma }: Work, absorbedQueen: number, absorbedPool: number): void {
  const { descent, model, system } = equations;
  const q = system.effects;
  sigma.fill(0);
  for (let side = 0; side < 2; side++) {
    const row = side === 0 ? absorbedQueen : absorbedPool;
    if (row < 0) continue;
    const own = descent.part.recursion.own[row] as number;
    for (let e = 0; e < q; e++) {
      for (let f = 0; f < q; f++) sigma[(side * q + e) * 2 * q + side * q + f] = own * (model.G[e * q + f] as number);
    }
  }
}

/** Turns P into M = P − ΣΛ'WB and Σ into Σ − ΣΛ'WΛΣ. */
function takeRecord(work: Work, hasQueen: boolean, hasPool: boolean): void {
  const { equations, support, sigma, loaded, gain } = work;
  const { traits: t, effects: q, observations } = equations.system;
  const side = 2 * q;
  const r = support.record;
  // ΣΛ' (2q × t): a queen gives ½ of her worker and all of her queen effect, a pool its worker effect
  for (let e = 0; e < side; e++) {
    for (let s = 0; s < t; s++) {
      let sum = 0;
      if (hasQueen) sum += 0.5 * (sigma[e * side + 2 * s] as number) + (sigma[e * side + 2 * s + 1] as number);
      if (hasPool) sum += sigma[e * side + q + 2 * s] as number;
      loaded[e * t + s] = sum;
    }
  }
  for (let e = 0; e < side; e++) {
    for (let s = 0; s < t; s++) {
      let sum = 0;
      for (let u = 0; u < t; u++)
        sum += (loaded[e * t + u] as number) * (observations.weight[(r * t + u) * t + s] as number);
      gain[e * t + s] = sum;
    }
  }
  subtractDesign(work, r);
  for (let e = 0; e < side; e++) {
    for (let f = 0; f < side; f++) {
      let sum = 0;
      for (let s = 0; s < t; s++) sum += (gain[e * t + s] as number) * (loaded[f * t + s] as number);
      sigma[e * side + f] = (sigma[e * side + f] as number) - sum;
    }
  }
}

/** M −= gain · B. */
function subtractDesign(work: Work, r: number): void {
  const { equations, support } = work;
  const { traits: t, effects: q, observations, features } = equations.system;
  for (let side = 0; side < 2; side++) {
    const f = (side === 0 ? observations.left[r] : observations.right[r]) as number;
    if (f < 0) continue;
    for (let k = features.start[f] as number; k < (features.start[f + 1] as number); k++) {
      const at = placeIn(support, features.node[k] as number, q);
      for (let s = 0; s < t; s++) {
        subtractColumn(work, at + 2 * s, s, features.first[k] as number);
        subtractColumn(work, at + 2 * s + 1, s, features.second[k] as number);
      }
    }
  }
  for (let k = support.nodes; k < support.count; k++)
    for (let s = 0; s < t; s++) subtractColumn(work, (support.at[k] as number) + s, s, 1);
}

function subtractColumn({ equations, support, m, gain }: Work, column: number, trait: number, load: number): void {
  if (load === 0) return;
  const t = equations.system.traits;
  for (let e = 0; e < 2 * equations.system.effects; e++) {
    const at = e * support.width + column;
    m[at] = (m[at] as number) - load * (gain[e * t + trait] as number);
  }
}

/** M C⁻¹ M' + Σ, into `out`. */
function throughInverse({ equations, support, m, sigma, inverse, product, out }: Work): void {
  const rows = 2 * equations.system.effects;
  const { width } = support;
  for (let e = 0; e < rows; e++) {
    for (let j = 0; j < width; j++) product[e * width + j] = 0;
    for (let k = 0; k < width; k++) {
      const x = m[e * width + k] as number;
      if (x === 0) continue;
      for (let j = 0; j < width; j++)
        product[e * width + j] = (product[e * width + j] as number) + x * (inverse[k * width + j] as number);
    }
  }
  for (let e = 0; e < rows; e++) {
    for (let f = 0; f <= e; f++) {
      let sum = sigma[e * rows + f] as number;
      for (let k = 0; k < width; k++) sum += (product[e * width + k] as number) * (m[f * width + k] as number);
      out[e * rows + f] = sum;
      out[f * rows + e] = sum;
    }
  }
}
