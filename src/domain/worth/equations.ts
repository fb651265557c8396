/**
 * The equations of an evaluation, made small: queens without daughters or drones, and pools without daughters, are absorbed into the
 * residual of their one record and come back exactly afterwards. What is left are parents.
 *
 * A record of queen Q who carries pool S: `y = fixed + ½u_d(Q) + g_d(S) + u_m(Q) + e` (d = worker effect, m = queen effect): the mean of
 * her workers is ½Q + S. Absorbing Q (own variance d_q, parents' average P) turns u(Q) into u(P) and adds `d_q k G k'`, k = (½, 1), to the
 * residual variance; absorbing S adds `d_S G_dd` (Quaas and Pollak 1980, J Anim Sci 51:1277, for the diploid case).
 */

import { inverseOf, type Square } from '#numeric/dense/small-matrix.ts';
import type { MixedSystem } from '#numeric/mixed/system.ts';
import type { Descent } from './descent.ts';
import { keptRecursion, keptRows, orderKept } from './kept-rows.ts';
import type { Model } from './model.ts';
import { absorbedRow, makeGathering, packFeatures, poolFeature, queenFeature } from './record-features.ts';
import { type Absorbed, weighAll } from './record-weights.ts';
import type { Records } from './records.ts';

/** The equations, and which row of the recursion and record of the file each of their parts is. */
export type Equations = Absorbed & {
  readonly system: MixedSystem;
  readonly descent: Descent;
  readonly model: Model;
  /** Kept row of each row of the positive recursion, −1 for an absorbed one. */
  readonly kept: Int32Array;
  /** Record (in the order of the system) that absorbed each row of the positive recursion, −1 = none. */
  readonly recordOf: Int32Array;
  /** Record of the given file that each record of the system is. */
  readonly recordFrom: Int32Array;
  /** Sum over records of the log-determinant of the residual covariance. */
  readonly logResidual: number;
};

/** A further effect as it stands in the equations: its levels by record of the file, and how many of its first levels are left out (0 or 1). */
export type FurtherEffect = { level: Int32Array; names: readonly string[]; leftOut: number };

/**
 * Effects beside the leading one, with how many of their first levels are left out. Beside a fixed leading effect each leaves out its first level; beside a
 * random one the first of them stands for the mean and keeps all of its levels, and where there is none a general mean stands. None when the leading effect is
 * fixed and alone.
 * @example const { records, model } = workedPrepared();
 * furtherEffects(records, { ...model, random: { effect: ['yard', 'year'], covariance: Float64Array.of(4) } })[0] // { names: ['mean'], leftOut: 0 }
 */
export function furtherEffects(records: Records, model: Model): FurtherEffect[] {
  const given = records.factors.slice(1);
  if (model.random === undefined) return given.map((factor) => ({ ...factor, leftOut: 1 }));
  if (given.length === 0) return [{ level: new Int32Array(records.count), names: ['mean'], leftOut: 0 }];
  return given.map((factor, k) => ({ ...factor, leftOut: k === 0 ? 0 : 1 }));
}

/**
 * The same equations under other variances, for the same traits and effects: only weights and the inverses of G and of a random effect's covariance change.
 * All of them must be positive definite.
 * @example const { model } = workedPrepared();
 * 1 / reweigh(workedEquations(), { ...model, R: Float64Array.of(20) }).system.observations.weight[0] // 20; A stays, so nothing was absorbed into her record
 */
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

/**
 * The equations of records on a descent under a model (Henderson 1975, Biometrics 31:423; parents only, Quaas and Pollak 1980, J Anim Sci 51:1277). Values in
 * the traits' units, weights in 1/unit². G and R must be positive definite (the readers see to it). With `absorb: false` every queen and pool with variance of
 * her own stays: the same answers from far more equations. Records lie sorted by the leading effect. Without effects all records lie in one class, the mean.
 * @example const { weight } = workedEquations().system.observations;
 * Array.from(weight, (w) => 1 / w) // [10, 10, 11.6625, 11.6625, 10.25, 11.125]; Q1: 10 + 0.475 · (6/4 − 2 + 4)
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
  const gathering = makeGathering(descent, kept, recursion.size);
  const further = furtherEffects(records, model);
  const recordOf = new Int32Array(descent.part.recursion.size).fill(-1);
  const observations = {
    count: records.count,
    y: new Float64Array(records.count * traits),
    left: new Int32Array(records.count),
    right: new Int32Array(records.count),
    classStart,
    levels: furtherLevels(further, recordFrom),
  };
  const { own } = descent.part.recursion;
  const absorbedQueen = new Float64Array(records.count);
  const absorbedPool = new Float64Array(records.count);
  const presence = new Int32Array(records.count);
  for (let at = 0; at < records.count; at++) {
    const r = recordFrom[at] as number;
    const queen = records.queen[r] as number;
    const queenRow = descent.queenRow[queen] as number;
    const poolRow = descent.carriedRow[queen] as number;
    const queenAbsorbed = absorbedRow(gathering, queenRow);
    const poolAbsorbed = absorbedRow(gathering, poolRow);
    observations.left[at] = queenFeature(gathering, queenRow, queenAbsorbed);
    observations.right[at] = poolFeature(gathering, poolRow, poolAbsorbed);
    if (queenAbsorbed >= 0) {
      recordOf[queenAbsorbed] = at;
      absorbedQueen[at] = own[queenAbsorbed] as number;
    }
    if (poolAbsorbed >= 0) {
      recordOf[poolAbsorbed] = at;
      absorbedPool[at] = own[poolAbsorbed] as number;
    }
    for (let t = 0; t < traits; t++) {
      const value = records.values[r * traits + t] as number;
      if (Number.isNaN(value)) continue;
      observations.y[at * traits + t] = value;
      presence[at] = (presence[at] as number) | (1 << t);
    }
  }
  const weighed = weighAll(model, { absorbedQueen, absorbedPool, present: presence });
  const system: MixedSystem = {
    traits,
    effects: 2 * traits,
    recursion,
    inverseG: inverseOf(model.G, 2 * traits) as Square,
    features: packFeatures(gathering),
    observations: { ...observations, weight: weighed.weight },
    factors: further.length,
    levelCount: further.reduce((sum, { names, leftOut }) => sum + Math.max(0, names.length - leftOut), 0),
    classPrior: model.random === undefined ? null : (inverseOf(model.random.covariance, traits) as Square),
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

/** Levels of the further effects, numbered through; −1 for a level that is left out. */
function furtherLevels(further: readonly FurtherEffect[], recordFrom: Int32Array): Int32Array {
  const count = recordFrom.length;
  const out = new Int32Array(count * further.length);
  let before = 0;
  for (const [k, { level, names, leftOut }] of further.entries()) {
    for (let at = 0; at < count; at++) {
      const number = level[recordFrom[at] as number] as number;
      out[at * further.length + k] = number < leftOut ? -1 : before + number - leftOut;
    }
    before += Math.max(0, names.length - leftOut);
  }
  return out;
}
