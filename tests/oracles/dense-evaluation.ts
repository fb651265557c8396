/**
 * An evaluation by dense generalised least squares, straight from the definition: V = Z (A ⊗ G) Z' + R over single values, fixed effects by
 * (X'V⁻¹X)⁻¹X'V⁻¹y, breeding values (A ⊗ G) Z' V⁻¹ (y − Xb), their error variances and the restricted likelihood. Nothing absorbed, nothing sparse.
 */
import { covarianceOfNodes } from '#domain/pedigree/kinship.ts';
import type { Pedigree } from '#domain/pedigree/laid-pedigree.ts';
import type { Model } from '#domain/worth/model.ts';
import type { Records } from '#domain/worth/records.ts';
import { choleskyInPlace, inverseOf, logDeterminant } from '#numeric/dense/small-matrix.ts';

export type DenseAnswer = {
  fixed: number[];
  /** Per node of the pedigree's recursion: worker and queen effect of each trait in turn. */
  effects: (node: number, effect: number) => number;
  /** Error covariance of two effects of two nodes. */
  error: (a: number, e: number, b: number, f: number) => number;
  logLikelihood: number;
};

type Value = { record: number; trait: number; y: number };

/** Columns of X: every level of the first fixed effect, every level but the first of the others; each trait has its own. */
function designRow(records: Records, traits: number, { record, trait }: Value): number[] {
  const row: number[] = [];
  for (const [k, factor] of records.factors.entries()) {
    for (let level = k === 0 ? 0 : 1; level < factor.names.length; level++) {
      for (let t = 0; t < traits; t++) row.push(t === trait && factor.level[record] === level ? 1 : 0);
    }
  }
  return row;
}

/** Coefficient of (node, effect) in a value: ½ worker effect and all of the queen effect of the queen, the worker effect of her pool. */
function loads(pedigree: Pedigree, records: Records, value: Value): { node: number; effect: number; weight: number }[] {
  const queen = records.queen[value.record] ?? -1;
  const node = pedigree.queenNode[queen] ?? -1;
  const pool = pedigree.carriedNode[queen] ?? -1;
  return [
    { node, effect: 2 * value.trait, weight: 0.5 },
    { node, effect: 2 * value.trait + 1, weight: 1 },
    { node: pool, effect: 2 * value.trait, weight: 1 },
  ];
}

export function denseEvaluation(pedigree: Pedigree, records: Records, model: Model): DenseAnswer {
  const traits = model.traits.length;
  const q = 2 * traits;
  const values: Value[] = [];
  for (let record = 0; record < records.count; record++) {
    for (let trait = 0; trait < traits; trait++) {
      const y = records.values[record * traits + trait] ?? Number.NaN;
      if (!Number.isNaN(y)) values.push({ record, trait, y });
    }
  }
  const n = values.length;
  const A = (a: number, b: number) => covarianceOfNodes(pedigree, a, b);
  const G = (e: number, f: number) => model.G[e * q + f] ?? 0;
  const rows = values.map((value) => loads(pedigree, records, value));
  /** Covariance of effect (node, e) with value v. */
  const withValue = (node: number, e: number, v: number) =>
    (rows[v] ?? []).reduce((sum, load) => sum + load.weight * A(node, load.node) * G(e, load.effect), 0);
  const V = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      const [a, b] = [values[i] as Value, values[j] as Value];
      const genetic = (rows[i] ?? []).reduce(
        (sum, load) => sum + load.weight * withValue(load.node, load.effect, j),
        0,
      );
      V[i * n + j] = V[j * n + i] = genetic + (a.record === b.record ? (model.R[a.trait * traits + b.trait] ?? 0) : 0);
    }
  }
  const inverse = inverseOf(V, n) as Float64Array;
  const all = values.map((value) => designRow(records, traits, value));
  const kept = (all[0] ?? []).map((_, c) => c).filter((c) => all.some((row) => row[c] !== 0));
  const X = all.map((row) => kept.map((c) => row[c] as number));
  const p = kept.length;
  const times = (v: Float64Array) =>
    Float64Array.from({ length: n }, (_, i) => v.reduce((sum, x, j) => sum + (inverse[i * n + j] ?? 0) * x, 0));
  const columns = kept.map((_, c) => Float64Array.from(X, (row) => row[c] ?? 0));
  const VX = columns.map(times);
  const XVX = new Float64Array(p * p);
  for (let a = 0; a < p; a++)
    for (let b = 0; b < p; b++)
      XVX[a * p + b] = (columns[a] as Float64Array).reduce((s, x, i) => s + x * (VX[b]?.[i] ?? 0), 0);
  const C = inverseOf(XVX, p) as Float64Array;
  const y = Float64Array.from(values, (value) => value.y);
  const XVy = VX.map((column) => column.reduce((sum, v, i) => sum + v * (y[i] ?? 0), 0));
  const estimates = kept.map((_, a) => XVy.reduce((sum, v, b) => sum + (C[a * p + b] ?? 0) * v, 0));
  const rest = y.map((value, i) => value - estimates.reduce((sum, b, c) => sum + b * (X[i]?.[c] ?? 0), 0));
  const Vr = times(rest);
  const lV = V.slice();
  const lX = XVX.slice();
  if (!choleskyInPlace(lV, n) || !choleskyInPlace(lX, p)) throw new Error('dense oracle: not positive definite');
  const fixed = (all[0] ?? []).map((_, c) => (kept.includes(c) ? (estimates[kept.indexOf(c)] ?? 0) : Number.NaN));
  const covariances = new Map<string, Float64Array>();
  const covariance = (node: number, e: number): Float64Array => {
    const key = `${node} ${e}`;
    const known = covariances.get(key) ?? Float64Array.from({ length: n }, (_, v) => withValue(node, e, v));
    covariances.set(key, known);
    return known;
  };
  /** c' P d with P = V⁻¹ − V⁻¹X C X'V⁻¹. */
  const throughP = (c: Float64Array, d: Float64Array): number => {
    const Vd = times(d);
    const plain = c.reduce((sum, x, i) => sum + x * (Vd[i] ?? 0), 0);
    const xc = VX.map((column) => column.reduce((sum, v, i) => sum + v * (c[i] ?? 0), 0));
    const xd = VX.map((column) => column.reduce((sum, v, i) => sum + v * (d[i] ?? 0), 0));
    return plain - xc.reduce((sum, a, i) => sum + xd.reduce((s, b, j) => s + (C[i * p + j] ?? 0) * b, 0) * a, 0);
  };
  return {
    fixed,
    effects: (node, effect) => covariance(node, effect).reduce((sum, c, i) => sum + c * (Vr[i] ?? 0), 0),
    error: (a, e, b, f) => A(a, b) * G(e, f) - throughP(covariance(a, e), covariance(b, f)),
    logLikelihood:
      -0.5 * (logDeterminant(lV, n) + logDeterminant(lX, p) + rest.reduce((sum, r, i) => sum + r * (Vr[i] ?? 0), 0)),
  };
}
