/**
 * The equations of an evaluation, made small: queens without daughters or drones, and pools without daughters, are absorbed into the
 * residual of their one record and come back exactly afterwards. What is left are parents.
 *
 * A record of queen Q who carries pool S: `y = fixed + ½u_d(Q) + g_d(S) + u_m(Q) + e` (d = worker effect, m = queen effect): the mean of
 * her workers is ½Q + S. Absorbing Q (own variance d_q, parents' average P) turns u(Q) into u(P) and adds `d_q k G k'`, k = (½, 1), to the
 * residual variance; absorbing S adds `d_S G_dd` (Quaas and Pollak 1980, J Anim Sci 51:1277, for the diploid case).
 */
import { choleskyInPlace, inverseOf, logDeterminant, type Square } from '#numeric/dense/small-matrix.ts';
import type { Features, MixedSystem } from '#numeric/mixed/system.ts';
import type { PositivePart } from '#numeric/recursion/positive-part.ts';
import type { Recursion } from '#numeric/recursion/recursion.ts';
import type { Model } from './model.ts';
import type { Records } from './records.ts';

/** Rows of the positive recursion, and how the queens and pools of the records stand in it. */
export type Descent = {
  readonly part: PositivePart;
  /** Row of the full recursion of each queen, and of the pool she carries. */
  readonly queenRow: Int32Array;
  readonly carriedRow: Int32Array;
  /** 1 where a row of the full recursion is a pool. */
  readonly isPool: Uint8Array;
};

export type Equations = {
  readonly system: MixedSystem;
  readonly descent: Descent;
  readonly model: Model;
  /** Kept row of each row of the positive recursion, −1 for an absorbed one. */
  readonly kept: Int32Array;
  /** Record (in the order of the system) that absorbed each row of the positive recursion, −1 = none. */
  readonly recordOf: Int32Array;
  /** Record of the given file that each record of the system is. */
  readonly recordFrom: Int32Array;
  /** Own variance of the queen and of the pool each record absorbed, 0 = none; traits recorded, as bits. */
  readonly absorbedQueen: Float64Array;
  readonly absorbedPool: Float64Array;
  readonly present: Int32Array;
  /** Sum over records of the log-determinant of the residual covariance. */
  readonly logResidual: number;
};

/** Which rows stay in the equations. */
function keptRows(descent: Descent, records: Records): Uint8Array {
  const { part } = descent;
  const { size, start, older } = part.recursion;
  const keep = new Uint8Array(size);
  for (let k = 0; k < (start[size] as number); k++) keep[older[k] as number] = 1;
  const uses = new Int32Array(size);
  const use = (fullRow: number) => {
    const from = part.start[fullRow] as number;
    const to = part.start[fullRow + 1] as number;
    for (let k = from; k < to; k++) {
      const row = part.row[k] as number;
      uses[row] = (uses[row] as number) + 1;
      if (to - from > 1 || part.weight[k] !== 1 || (uses[row] as number) > 1) keep[row] = 1;
    }
  };
  for (let r = 0; r < records.count; r++) {
    const queen = records.queen[r] as number;
    use(descent.queenRow[queen] as number);
    use(descent.carriedRow[queen] as number);
  }
  keepShared(descent, keep, uses);
  return keep;
}

/** A recorded pool that several queens carry stays, so that what is absorbed into a record belongs to one queen. */
function keepShared({ part, carriedRow }: Descent, keep: Uint8Array, uses: Int32Array): void {
  const carriers = new Int32Array(part.recursion.size);
  for (const fullRow of carriedRow) {
    if ((part.start[fullRow + 1] as number) - (part.start[fullRow] as number) !== 1) continue;
    const row = part.row[part.start[fullRow] as number] as number;
    carriers[row] = (carriers[row] as number) + 1;
    if ((carriers[row] as number) > 1 && (uses[row] as number) > 0) keep[row] = 1;
  }
}

/** Kept rows in an order of falling distance to their youngest descendant, pools before queens, so that older ones come first. */
function orderKept(descent: Descent, keep: Uint8Array): { order: Int32Array; kept: Int32Array } {
  const { part, isPool } = descent;
  const { size, start, older } = part.recursion;
  const height = new Int32Array(size);
  let most = 0;
  for (let row = size - 1; row >= 0; row--) {
    for (let k = start[row] as number; k < (start[row + 1] as number); k++) {
      const j = older[k] as number;
      if ((height[j] as number) <= (height[row] as number)) height[j] = (height[row] as number) + 1;
    }
    most = Math.max(most, height[row] as number);
  }
  const key = (row: number) => 2 * (most - (height[row] as number)) + (isPool[part.from[row] as number] === 1 ? 0 : 1);
  const place = new Int32Array(2 * most + 4);
  let count = 0;
  for (let row = 0; row < size; row++) {
    if (keep[row] === 0) continue;
    place[key(row) + 1] = (place[key(row) + 1] as number) + 1;
    count++;
  }
  for (let k = 1; k < place.length; k++) place[k] = (place[k] as number) + (place[k - 1] as number);
  const order = new Int32Array(count);
  const kept = new Int32Array(size).fill(-1);
  for (let row = 0; row < size; row++) {
    if (keep[row] === 0) continue;
    const at = place[key(row)] as number;
    place[key(row)] = at + 1;
    order[at] = row;
    kept[row] = at;
  }
  return { order, kept };
}

function keptRecursion(full: Recursion, order: Int32Array, kept: Int32Array): Recursion {
  const size = order.length;
  const start = new Int32Array(size + 1);
  for (let i = 0; i < size; i++) {
    const row = order[i] as number;
    start[i + 1] = (start[i] as number) + (full.start[row + 1] as number) - (full.start[row] as number);
  }
  const older = new Int32Array(start[size] as number);
  const weight = new Float64Array(start[size] as number);
  const own = new Float64Array(size);
  const level = new Int32Array(size);
  let at = 0;
  for (let i = 0; i < size; i++) {
    const row = order[i] as number;
    own[i] = full.own[row] as number;
    for (let k = full.start[row] as number; k < (full.start[row + 1] as number); k++) {
      const j = kept[full.older[k] as number] as number;
      older[at] = j;
      weight[at++] = full.weight[k] as number;
      level[i] = Math.max(level[i] as number, 1 + (level[j] as number));
    }
  }
  return { size, start, older, weight, own, level };
}

/** Features while they are gathered; equal ones are shared. */
type Gathering = {
  readonly start: number[];
  readonly node: number[];
  readonly first: number[];
  readonly second: number[];
  readonly known: Map<number, number>;
};

type Term = { node: number; weight: number };
type Load = { first: number; second: number };
/** What a record takes from a queen (½ of her worker effect, all of her queen effect) and from a pool (all of its worker effect). */
const OF_QUEEN: Load = { first: 0.5, second: 1 };
const OF_POOL: Load = { first: 1, second: 0 };

function feature(g: Gathering, terms: readonly Term[], load: Load, size: number): number {
  if (terms.length === 0) return -1;
  const key = keyOf(terms, load, size);
  const known = key === null ? undefined : g.known.get(key);
  if (known !== undefined) return known;
  for (const { node, weight } of terms) {
    g.node.push(node);
    g.first.push(weight * load.first);
    g.second.push(weight * load.second);
  }
  const id = g.start.push(g.node.length) - 2;
  if (key !== null) g.known.set(key, id);
  return id;
}

/** A number that is the same for the same feature, for the kinds that many records share; null for the others. */
function keyOf(terms: readonly Term[], load: Load, size: number): number | null {
  const kind = load === OF_POOL ? 3 : 0;
  const [a, b, more] = terms;
  if (a === undefined || more !== undefined || 8 * (size + 1) ** 2 > Number.MAX_SAFE_INTEGER) return null;
  if (b === undefined) {
    if (a.weight === 1) return a.node * 8 + kind;
    return a.weight === 0.5 ? a.node * 8 + kind + 1 : null;
  }
  if (a.weight === 0.5 && b.weight === 1) return ((a.node + 1) * (size + 1) + b.node + 1) * 8 + kind + 2;
  return null;
}

/** The terms of a row of the full recursion in kept rows, and the row of the positive recursion that was absorbed (−1 = none). */
export function termsOfRow(descent: Descent, kept: Int32Array, fullRow: number): { terms: Term[]; absorbed: number } {
  const { part } = descent;
  const from = part.start[fullRow] as number;
  const to = part.start[fullRow + 1] as number;
  const row = part.row[from] as number;
  if (to - from === 1 && kept[row] === -1) {
    const { start, older, weight } = part.recursion;
    const terms: Term[] = [];
    for (let k = start[row] as number; k < (start[row + 1] as number); k++) {
      terms.push({ node: kept[older[k] as number] as number, weight: weight[k] as number });
    }
    return { terms, absorbed: row };
  }
  const terms: Term[] = [];
  for (let k = from; k < to; k++)
    terms.push({ node: kept[part.row[k] as number] as number, weight: part.weight[k] as number });
  return { terms, absorbed: -1 };
}

/** Records of the model's leading fixed effect side by side: which given record stands at each place. */
function sortByClass(records: Records): { from: Int32Array; classStart: Int32Array } {
  const leading = records.factors[0];
  const classes = leading?.names.length ?? 1;
  const classStart = new Int32Array(classes + 1);
  const levelOf = (r: number) => (leading === undefined ? 0 : (leading.level[r] as number));
  for (let r = 0; r < records.count; r++) classStart[levelOf(r) + 1] = (classStart[levelOf(r) + 1] as number) + 1;
  for (let c = 0; c < classes; c++) classStart[c + 1] = (classStart[c + 1] as number) + (classStart[c] as number);
  const next = classStart.slice();
  const from = new Int32Array(records.count);
  for (let r = 0; r < records.count; r++) {
    const c = levelOf(r);
    from[next[c] as number] = r;
    next[c] = (next[c] as number) + 1;
  }
  return { from, classStart };
}

/** Inverse and log-determinant of a record's residual covariance with what was absorbed. */
type Weighed = { weight: Square; logDeterminant: number };
type Weigh = (present: readonly number[], ownQueen: number, ownPool: number) => Weighed;

/** Works out residual covariances; for several traits the same one is worked out once. */
function weigher(model: Model): Weigh {
  const traits = model.traits.length;
  if (traits === 1) return weighOne(model);
  const known = new Map<string, Weighed>();
  return (present, ownQueen, ownPool) => {
    const key = `${ownQueen} ${ownPool} ${present.join()}`;
    const found = known.get(key);
    if (found) return found;
    const v = residualCovariance(model, present, ownQueen, ownPool);
    const l = v.slice();
    choleskyInPlace(l, present.length);
    const weighed = {
      weight: spreadWeight(inverseOf(v, present.length) as Square, present, traits),
      logDeterminant: logDeterminant(l, present.length),
    };
    known.set(key, weighed);
    return weighed;
  };
}

/** The same for one trait, without memory. */
function weighOne({ G, R }: Model): Weigh {
  const [worker = 0, mixed = 0, , queen = 0] = G;
  const residual = R[0] as number;
  const ofQueen = 0.25 * worker + mixed + queen;
  const weight = new Float64Array(1);
  return (_, ownQueen, ownPool) => {
    const v = residual + ownQueen * ofQueen + ownPool * worker;
    weight[0] = 1 / v;
    return { weight, logDeterminant: Math.log(v) };
  };
}

/** R + ownQueen · kGk' + ownPool · G_dd between the traits present, k = (½, 1). */
function residualCovariance(model: Model, present: readonly number[], ownQueen: number, ownPool: number): Square {
  const traits = model.traits.length;
  const g = (i: number, j: number) => model.G[i * 2 * traits + j] as number;
  const v = new Float64Array(present.length ** 2);
  for (const [a, s] of present.entries()) {
    for (const [b, t] of present.entries()) {
      const worker = g(2 * s, 2 * t);
      const mixed = 0.5 * (g(2 * s, 2 * t + 1) + g(2 * s + 1, 2 * t));
      const queen = 0.25 * worker + mixed + g(2 * s + 1, 2 * t + 1);
      v[a * present.length + b] = (model.R[s * traits + t] as number) + ownQueen * queen + ownPool * worker;
    }
  }
  return v;
}

function spreadWeight(inverse: Square, present: readonly number[], traits: number): Square {
  if (present.length === traits) return inverse;
  const out = new Float64Array(traits * traits);
  for (const [a, s] of present.entries()) {
    for (const [b, t] of present.entries()) out[s * traits + t] = inverse[a * present.length + b] as number;
  }
  return out;
}

/** Weights of all records and the sum of the log-determinants of their residual covariances. */
function weighAll(model: Model, given: Pick<Equations, 'absorbedQueen' | 'absorbedPool' | 'present'>) {
  const traits = model.traits.length;
  const weigh = weigher(model);
  const count = given.present.length;
  const weight = new Float64Array(count * traits * traits);
  const patterns = Array.from({ length: 2 ** traits }, (_, bits) =>
    model.traits.flatMap((_name, t) => (bits & (1 << t) ? [t] : [])),
  );
  let sum = 0;
  for (let r = 0; r < count; r++) {
    const present = patterns[given.present[r] as number] as number[];
    const weighed = weigh(present, given.absorbedQueen[r] as number, given.absorbedPool[r] as number);
    if (traits === 1) weight[r] = weighed.weight[0] as number;
    else weight.set(weighed.weight, r * traits * traits);
    sum += weighed.logDeterminant;
  }
  return { weight, sum };
}

/** The same equations under other variances: only weights and the inverse of G change. */
export function reweigh(equations: Equations, model: Model): Equations {
  const { weight, sum } = weighAll(model, equations);
  const { system } = equations;
  return {
    ...equations,
    model,
    logResidual: sum,
    system: {
      ...system,
      inverseG: inverseOf(model.G, system.effects) as Square,
      observations: { ...system.observations, weight },
    },
  };
}

/**
 * The equations of records on a descent under a model. G and R must be positive definite (the readers see to it). With `absorb: false` every queen and
 * pool stays: the same answers from far more equations.
 */
export function makeEquations(
  descent: Descent,
  records: Records,
  model: Model,
  options: { absorb?: boolean } = {},
): Equations {
  const traits = model.traits.length;
  const keep =
    options.absorb === false ? new Uint8Array(descent.part.recursion.size).fill(1) : keptRows(descent, records);
  const { order, kept } = orderKept(descent, keep);
  const recursion = keptRecursion(descent.part.recursion, order, kept);
  const { from: recordFrom, classStart } = sortByClass(records);
  const gathering: Gathering = { start: [0], node: [], first: [], second: [], known: new Map() };
  const recordOf = new Int32Array(descent.part.recursion.size).fill(-1);
  const observations = {
    count: records.count,
    y: new Float64Array(records.count * traits),
    left: new Int32Array(records.count),
    right: new Int32Array(records.count),
    classStart,
    levels: furtherLevels(records, recordFrom),
  };
  const absorbedQueen = new Float64Array(records.count);
  const absorbedPool = new Float64Array(records.count);
  const presence = new Int32Array(records.count);
  for (let at = 0; at < records.count; at++) {
    const r = recordFrom[at] as number;
    const queen = records.queen[r] as number;
    const ofQueen = termsOfRow(descent, kept, descent.queenRow[queen] as number);
    const ofPool = termsOfRow(descent, kept, descent.carriedRow[queen] as number);
    observations.left[at] = feature(gathering, ofQueen.terms, OF_QUEEN, recursion.size);
    observations.right[at] = feature(gathering, ofPool.terms, OF_POOL, recursion.size);
    const own = (absorbed: number) => (absorbed < 0 ? 0 : (descent.part.recursion.own[absorbed] as number));
    if (ofQueen.absorbed >= 0) recordOf[ofQueen.absorbed] = at;
    if (ofPool.absorbed >= 0) recordOf[ofPool.absorbed] = at;
    absorbedQueen[at] = own(ofQueen.absorbed);
    absorbedPool[at] = own(ofPool.absorbed);
    for (let t = 0; t < traits; t++) {
      const value = records.values[r * traits + t] as number;
      if (Number.isNaN(value)) continue;
      observations.y[at * traits + t] = value;
      presence[at] = (presence[at] as number) | (1 << t);
    }
  }
  const weighed = weighAll(model, { absorbedQueen, absorbedPool, present: presence });
  const further = records.factors.slice(1);
  const system: MixedSystem = {
    traits,
    effects: 2 * traits,
    recursion,
    inverseG: inverseOf(model.G, 2 * traits) as Square,
    features: packFeatures(gathering),
    observations: { ...observations, weight: weighed.weight },
    factors: further.length,
    levelCount: further.reduce((sum, factor) => sum + Math.max(0, factor.names.length - 1), 0),
    classPrior: null,
  };
  return {
    system,
    descent,
    model,
    kept,
    recordOf,
    recordFrom,
    absorbedQueen,
    absorbedPool,
    present: presence,
    logResidual: weighed.sum,
  };
}

const packFeatures = (g: Gathering): Features => ({
  count: g.start.length - 1,
  start: Int32Array.from(g.start),
  node: Int32Array.from(g.node),
  first: Float64Array.from(g.first),
  second: Float64Array.from(g.second),
});

/** Levels of the further fixed effects, numbered through; their first level is left out (−1). */
function furtherLevels(records: Records, recordFrom: Int32Array): Int32Array {
  const further = records.factors.slice(1);
  const out = new Int32Array(records.count * further.length);
  let before = 0;
  for (const [k, factor] of further.entries()) {
    for (let at = 0; at < records.count; at++) {
      const level = factor.level[recordFrom[at] as number] as number;
      out[at * further.length + k] = level === 0 ? -1 : before + level - 1;
    }
    before += Math.max(0, factor.names.length - 1);
  }
  return out;
}
