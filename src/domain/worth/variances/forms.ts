/**
 * The quadratic forms of restricted maximum likelihood for the parents-only equations. The covariance of the records is
 * `V = Z (A ⊗ G) Z' + blocks (R + d_q kGk' + d_S G_dd)`, so for a change ∂G or ∂R:
 *
 * - `y'P ∂V Py = tr(Q_G ∂G) + tr(Q_R ∂R)` with `Q_G = G⁻¹ Û'A⁻¹Û G⁻¹ + Σ_r (d_q κκ' + d_S ππ')`, `Q_R = Σ_r s s'`, s = Py of a record,
 *   κ = k's (½ s on worker effects, s on queen effects), π = s on worker effects;
 * - `tr(P ∂V)` has the same form with matrices M in place of Q: what Q is on average for values drawn from the model.
 *
 * (Patterson and Thompson 1971, Biometrika 58:545; average information: Johnson and Thompson 1995, J Dairy Sci 78:449.)
 */
import { multiply, type Square } from '#numeric/dense/small-matrix.ts';
import { type DirectPattern, recordVertices } from '#numeric/mixed/direct.ts';
import type { Projected } from '#numeric/mixed/projection.ts';
import { recordFeatures } from '#numeric/mixed/record-features.ts';
import { inverseBlock, type SelectedInverse } from '#numeric/sparse/selected-inverse.ts';
import type { Equations } from '../equations.ts';

/** A form in G (`q × q`) and one in R (`t × t`). */
export type Forms = { G: Square; R: Square };

/** Adds `scale · x x'`. */
function addOuter(into: Square, x: Float64Array, scale: number): void {
  const n = x.length;
  for (let i = 0; i < n; i++) {
    const xi = scale * (x[i] as number);
    if (xi === 0) continue;
    for (let j = 0; j < n; j++) into[i * n + j] = (into[i * n + j] as number) + xi * (x[j] as number);
  }
}

/** Loads of one record's s on the effects: of an absorbed queen, of an absorbed pool. */
function loadQueen(s: Float64Array, at: number, out: Float64Array): void {
  for (let t = 0; 2 * t < out.length; t++) {
    out[2 * t] = 0.5 * (s[at + t] as number);
    out[2 * t + 1] = s[at + t] as number;
  }
}
function loadPool(s: Float64Array, at: number, out: Float64Array): void {
  for (let t = 0; 2 * t < out.length; t++) {
    out[2 * t] = s[at + t] as number;
    out[2 * t + 1] = 0;
  }
}

/**
 * Q_G (q × q, q = 2 effects a trait) and Q_R (t × t) of projected values: `y'P ∂V Py = tr(Q_G ∂G) + tr(Q_R ∂R)`, in inverse squares of the traits' units.
 * One pass over nodes and records.
 * @param projected kept nodes' solutions and `Py` record by record, see `projectDirectly`
 * @example const equations = workedEquations();
 * const { projected } = pointAt(equations, directPattern(equations.system), workedPrepared().model);
 * quadraticForms(equations, projected).R // [0.60127598]
 */
export function quadraticForms(equations: Equations, { nodes, weighted }: Projected): Forms {
  const { system, absorbedQueen, absorbedPool } = equations;
  const { effects: q, traits: t, recursion, inverseG, observations } = system;
  const s = new Float64Array(q * q);
  const v = new Float64Array(q);
  for (let i = 0; i < recursion.size; i++) {
    for (let e = 0; e < q; e++) {
      let value = nodes[i * q + e] as number;
      for (let k = recursion.start[i] as number; k < (recursion.start[i + 1] as number); k++) {
        value -= (recursion.weight[k] as number) * (nodes[(recursion.older[k] as number) * q + e] as number);
      }
      v[e] = value;
    }
    addOuter(s, v, 1 / (recursion.own[i] as number));
  }
  const G = multiply(multiply(inverseG, s, q), inverseG, q);
  const R = new Float64Array(t * t);
  for (let r = 0; r < observations.count; r++) {
    addOuter(R, weighted.subarray(r * t, r * t + t), 1);
    if ((absorbedQueen[r] as number) > 0) {
      loadQueen(weighted, r * t, v);
      addOuter(G, v, absorbedQueen[r] as number);
    }
    if ((absorbedPool[r] as number) > 0) {
      loadPool(weighted, r * t, v);
      addOuter(G, v, absorbedPool[r] as number);
    }
  }
  return { G, R };
}

/**
 * M_G and M_R, exactly: `tr(P ∂V) = tr(M_G ∂G) + tr(M_R ∂R)`, what {@link quadraticForms} are on average when the values come from the model. From the
 * inverse of the equations on their pattern (Takahashi and others 1973), which holds every block that is needed: `n G⁻¹ − G⁻¹ T G⁻¹`, T_ab = tr(A⁻¹C^ab).
 * @example const equations = workedEquations(); const pattern = directPattern(equations.system);
 * const { factor } = pointAt(equations, pattern, workedPrepared().model);
 * expectedForms(equations, pattern, invertDirect(factor)).R // [0.31514157]
 */
export function expectedForms(equations: Equations, pattern: DirectPattern, inverse: SelectedInverse): Forms {
  const { effects: q, recursion, inverseG } = equations.system;
  const traces = nodeTraces(equations, inverse);
  const G = multiply(multiply(inverseG, traces, q), inverseG, q);
  for (let k = 0; k < q * q; k++) G[k] = recursion.size * (inverseG[k] as number) - (G[k] as number);
  return addRecordForms(equations, pattern, inverse, G);
}

/** T_ab = tr(A⁻¹ C^ab), row by row of the recursion. */
function nodeTraces({ system }: Equations, inverse: SelectedInverse): Square {
  const { effects: q, recursion } = system;
  const out = new Float64Array(q * q);
  const block = new Float64Array(q * q);
  const add = (i: number, j: number, scale: number) => {
    inverseBlock(inverse, i, j, block);
    for (let k = 0; k < q * q; k++) out[k] = (out[k] as number) + scale * (block[k] as number);
    if (i === j) return;
    for (let a = 0; a < q; a++)
      for (let b = 0; b < q; b++) out[a * q + b] = (out[a * q + b] as number) + scale * (block[b * q + a] as number);
  };
  for (let i = 0; i < recursion.size; i++) {
    const own = 1 / (recursion.own[i] as number);
    const from = recursion.start[i] as number;
    const to = recursion.start[i + 1] as number;
    add(i, i, own);
    for (let k = from; k < to; k++) {
      const wk = (recursion.weight[k] as number) * own;
      add(i, recursion.older[k] as number, -wk);
      for (let l = from; l < k; l++)
        add(recursion.older[k] as number, recursion.older[l] as number, wk * (recursion.weight[l] as number));
      add(recursion.older[k] as number, recursion.older[k] as number, wk * (recursion.weight[k] as number));
    }
  }
  return out;
}

/** Adds what the records give: P_rr = W − W (B C⁻¹ B') W spread over the effects they absorbed; and R's form. */
function addRecordForms(equations: Equations, pattern: DirectPattern, inverse: SelectedInverse, G: Square): Forms {
  const { system, absorbedQueen, absorbedPool } = equations;
  const { effects: q, traits: t, observations } = system;
  const R = new Float64Array(t * t);
  for (let c = 0; c + 1 < observations.classStart.length; c++) {
    for (let r = observations.classStart[c] as number; r < (observations.classStart[c + 1] as number); r++) {
      const p = recordProjection(equations, pattern, inverse, { r, c });
      for (let i = 0; i < t; i++) {
        for (let j = 0; j < t; j++) {
          const value = p[i * t + j] as number;
          R[i * t + j] = (R[i * t + j] as number) + value;
          const queen = (absorbedQueen[r] as number) * value;
          const at = 2 * i * q + 2 * j;
          G[at] = (G[at] as number) + 0.25 * queen + (absorbedPool[r] as number) * value;
          G[at + 1] = (G[at + 1] as number) + 0.5 * queen;
          G[at + q] = (G[at + q] as number) + 0.5 * queen;
          G[at + q + 1] = (G[at + q + 1] as number) + queen;
        }
      }
    }
  }
  return { G, R };
}

/** W − W H W of one record, H = B C⁻¹ B'. */
function recordProjection(
  { system }: Equations,
  pattern: DirectPattern,
  inverse: SelectedInverse,
  { r, c }: { r: number; c: number },
): Square {
  const { traits: t, observations } = system;
  const h = recordVariance(system, pattern, inverse, { r, c });
  const w = observations.weight.subarray(r * t * t, (r + 1) * t * t);
  const wh = multiply(w, h, t);
  const whw = multiply(wh, w, t);
  for (let k = 0; k < t * t; k++) whw[k] = (w[k] as number) - (whw[k] as number);
  return whw;
}

type SystemOf = Equations['system'];

function recordVariance(
  system: SystemOf,
  pattern: DirectPattern,
  inverse: SelectedInverse,
  { r, c }: { r: number; c: number },
): Square {
  const { traits: t, effects: q } = system;
  const loads = recordLoads(system, pattern, { r, c });
  const block = new Float64Array(Math.max(q, t) ** 2);
  const out = new Float64Array(t * t);
  for (const one of loads) {
    for (const other of loads) {
      inverseBlock(inverse, one.vertex, other.vertex, block);
      const wide = other.isNode ? q : t;
      for (let i = 0; i < t; i++) {
        for (let j = 0; j < t; j++) {
          let sum = 0;
          for (const [a, x] of partsOf(one, i))
            for (const [b, y] of partsOf(other, j)) sum += x * y * (block[a * wide + b] as number);
          out[i * t + j] = (out[i * t + j] as number) + sum;
        }
      }
    }
  }
  return out;
}

type Load = { vertex: number; isNode: boolean; first: number; second: number };

/** Rows of a vertex that take part in trait t, with their loads. */
function partsOf(load: Load, t: number): readonly (readonly [number, number])[] {
  return load.isNode
    ? [
        [2 * t, load.first],
        [2 * t + 1, load.second],
      ]
    : [[t, 1]];
}

function recordLoads(system: SystemOf, pattern: DirectPattern, { r, c }: { r: number; c: number }): Load[] {
  const { features, observations } = system;
  const loads: Load[] = [];
  for (const feature of [observations.left[r] as number, observations.right[r] as number]) {
    if (feature < 0) continue;
    for (let k = features.start[feature] as number; k < (features.start[feature + 1] as number); k++) {
      const [first, second] = [features.first[k] as number, features.second[k] as number];
      loads.push({ vertex: features.node[k] as number, isNode: true, first, second });
    }
  }
  for (const vertex of recordVertices(system, r, c, [])) {
    if (vertex >= pattern.firstClass) loads.push({ vertex, isNode: false, first: 0, second: 0 });
  }
  return loads;
}

/** Parameters in a row: the lower triangle of G, then of R, as [matrix, row, column]. */
export type Parameter = { of: 'G' | 'R'; row: number; column: number };

/**
 * The parameters of so many traits in their order, t(2t + 1) of G and t(t + 1)/2 of R.
 * @example parametersOf(2).length // 10 + 3; lower triangles of a 4 × 4 and a 2 × 2
 */
export function parametersOf(traits: number): Parameter[] {
  const triangle = (of: 'G' | 'R', size: number): Parameter[] =>
    Array.from({ length: size }, (_, row) =>
      Array.from({ length: row + 1 }, (_unused, column): Parameter => ({ of, row, column })),
    ).flat();
  return [...triangle('G', 2 * traits), ...triangle('R', traits)];
}

/**
 * The working vector `f = ∂V Py` of one parameter, `records × traits`: average information is ½ f_i'P f_j. An off-diagonal parameter moves both of its
 * places (Johnson and Thompson 1995, J Dairy Sci 78:449).
 * With one trait that of R is Py itself.
 * @example const equations = workedEquations();
 * const { projected } = pointAt(equations, directPattern(equations.system), workedPrepared().model);
 * workingVector(equations, projected, { of: 'R', row: 0, column: 0 })[0] === projected.weighted[0] // true
 */
export function workingVector(
  equations: Equations,
  { nodes, weighted }: Projected,
  parameter: Parameter,
): Float64Array {
  const { system, absorbedQueen, absorbedPool } = equations;
  const { traits: t, effects: q, observations, recursion, inverseG } = system;
  const { row, column } = parameter;
  if (parameter.of === 'R') {
    const out = new Float64Array(observations.count * t);
    for (let r = 0; r < observations.count; r++) {
      out[r * t + row] = weighted[r * t + column] as number;
      out[r * t + column] = weighted[r * t + row] as number;
    }
    return out;
  }
  const changed = new Float64Array(recursion.size * q);
  for (let i = 0; i < recursion.size; i++) {
    let [atRow, atColumn] = [0, 0];
    for (let e = 0; e < q; e++) {
      const u = nodes[i * q + e] as number;
      atRow += (inverseG[row * q + e] as number) * u;
      atColumn += (inverseG[column * q + e] as number) * u;
    }
    changed[i * q + row] = atColumn;
    changed[i * q + column] = atRow;
  }
  const out = recordFeatures(system, changed);
  const load = new Float64Array(q);
  for (let r = 0; r < observations.count; r++) {
    if ((absorbedQueen[r] as number) > 0) {
      loadQueen(weighted, r * t, load);
      addAbsorbed(out, r * t, { load, row, column, own: absorbedQueen[r] as number, ofQueen: true });
    }
    if ((absorbedPool[r] as number) > 0) {
      loadPool(weighted, r * t, load);
      addAbsorbed(out, r * t, { load, row, column, own: absorbedPool[r] as number, ofQueen: false });
    }
  }
  return out;
}

type Absorbed = { load: Float64Array; row: number; column: number; own: number; ofQueen: boolean };

/** Adds own · K ∂G K's of one record: ∂G turns the load at `column` into one at `row` and back. */
function addAbsorbed(out: Float64Array, at: number, { load, row, column, own, ofQueen }: Absorbed): void {
  const weightOf = (e: number) => (e % 2 === 0 ? (ofQueen ? 0.5 : 1) : ofQueen ? 1 : 0);
  const put = (e: number, value: number) => {
    const place = at + (e >> 1);
    out[place] = (out[place] as number) + own * weightOf(e) * value;
  };
  put(row, load[column] as number);
  if (row !== column) put(column, load[row] as number);
}
