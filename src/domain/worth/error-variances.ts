/**
 * Prediction error variances of queens, exact: from the inverse of the parents-only equations, with what was absorbed put back.
 *
 * For a queen Q and her pool S let (u_Q, g_S) = P x + δ, x what was kept, δ what was absorbed (variance Σ, none where kept). With a record
 * `y = B(b, x) + Λδ + e`, V = ΛΣΛ' + R and W = V⁻¹: `var(error) = M C⁻¹ M' + Σ − ΣΛ'WΛΣ`, M = P − ΣΛ'WB. Checked against dense algebra.
 */
import { recordVertices } from '#numeric/mixed/direct.ts';
import { classesOf } from '#numeric/mixed/system.ts';
import { inverseBlock, type SelectedInverse } from '#numeric/sparse/selected-inverse.ts';
import { type Equations, termsOfRow } from './equations.ts';

/** Error covariance of the effects of a queen, then of the pool she carries: `2q × 2q`. */
export type PairError = Float64Array;

/** Sets of kept nodes whose covariances the error variances of all queens need beside those the records couple. */
export function askedSets(equations: Equations): number[][] {
  const { descent, kept } = equations;
  const sets: number[][] = [];
  for (let i = 0; i < descent.queenRow.length; i++) {
    const nodes = [descent.queenRow[i] as number, descent.carriedRow[i] as number].flatMap((row) =>
      termsOfRow(descent, kept, row).terms.map((term) => term.node),
    );
    sets.push([...new Set(nodes)]);
  }
  return sets;
}

type Support = {
  /** Vertices of the direct equations, and where each one's columns begin. */
  vertices: number[];
  at: Map<number, number>;
  width: number;
};

/**
 * The inverse of the equations by blocks: vertices are the kept nodes, then the classes of the leading effect, then further levels. `record` is the
 * record whose queen is looked at (−1 = none), for those who know the inverse only near a record.
 */
export type InverseBlocks = (record: number, v: number, w: number, out: Float64Array) => void;

/** The exact inverse. */
export const exactBlocks =
  (inverse: SelectedInverse): InverseBlocks =>
  (_record, v, w, out) =>
    inverseBlock(inverse, v, w, out);

/** Works out the error covariances of every queen and her pool, one after another, into `visit`. */
export function eachPairError(
  equations: Equations,
  blocks: InverseBlocks,
  visit: (queen: number, error: PairError) => void,
): void {
  const { descent } = equations;
  const classOf = classOfRecords(equations);
  for (let i = 0; i < descent.queenRow.length; i++) visit(i, pairError(equations, { blocks, classOf }, i));
}

/** Class of the leading effect of every record. */
export function classOfRecords({ system }: Equations): Int32Array {
  const { classStart, count } = system.observations;
  const out = new Int32Array(count);
  for (let c = 0; c + 1 < classStart.length; c++) out.fill(c, classStart[c], classStart[c + 1]);
  return out;
}

type Inverse = { blocks: InverseBlocks; classOf: Int32Array };

function pairError(equations: Equations, given: Inverse, queen: number): PairError {
  const { descent, kept, recordOf, system } = equations;
  const q = system.effects;
  const sides = [descent.queenRow[queen] as number, descent.carriedRow[queen] as number].map((row) =>
    termsOfRow(descent, kept, row),
  );
  const absorbed = sides.map((side) => side.absorbed);
  const record = Math.max(...absorbed.map((row) => (row < 0 ? -1 : (recordOf[row] as number))));
  const support = supportOf(equations, given, sides, record);
  const m = new Float64Array(2 * q * support.width);
  for (const [side, { terms }] of sides.entries()) {
    for (const { node, weight } of terms) {
      const at = support.at.get(node) as number;
      for (let e = 0; e < q; e++)
        m[(side * q + e) * support.width + at + e] = (m[(side * q + e) * support.width + at + e] ?? 0) + weight;
    }
  }
  const sigma = absorbedVariance(equations, absorbed);
  if (record >= 0) takeRecord(equations, given, { record, absorbed, support, m, sigma });
  return throughInverse(equations, given, { record, support, m, sigma });
}

type Side = ReturnType<typeof termsOfRow>;

function supportOf(equations: Equations, { classOf }: Inverse, sides: readonly Side[], record: number): Support {
  const { system } = equations;
  const vertices = sides.flatMap((side) => side.terms.map((term) => term.node));
  if (record >= 0) vertices.push(...recordVertices(system, record, classOf[record] as number, []));
  const unique = [...new Set(vertices)];
  const at = new Map<number, number>();
  let width = 0;
  for (const v of unique) {
    at.set(v, width);
    width += v < system.recursion.size ? system.effects : system.traits;
  }
  return { vertices: unique, at, width };
}

/** Σ: own variance of each absorbed side times G, `2q × 2q`. */
function absorbedVariance({ descent, model, system }: Equations, absorbed: readonly number[]): Float64Array {
  const q = system.effects;
  const sigma = new Float64Array(4 * q * q);
  for (const [side, row] of absorbed.entries()) {
    if (row < 0) continue;
    const own = descent.part.recursion.own[row] as number;
    for (let e = 0; e < q; e++) {
      for (let f = 0; f < q; f++) sigma[(side * q + e) * 2 * q + side * q + f] = own * (model.G[e * q + f] as number);
    }
  }
  return sigma;
}

type Taking = { record: number; absorbed: readonly number[]; support: Support; m: Float64Array; sigma: Float64Array };

/** Turns P into M and Σ into Σ − ΣΛ'WΛΣ. */
function takeRecord(equations: Equations, given: Inverse, { record, absorbed, support, m, sigma }: Taking): void {
  const { system } = equations;
  const { traits: t, effects: q, observations } = system;
  const side = 2 * q;
  // ΣΛ' (2q × t): a queen gives ½ of her worker and all of her queen effect, a pool its worker effect
  const loaded = new Float64Array(side * t);
  for (let e = 0; e < side; e++) {
    for (let s = 0; s < t; s++) {
      let sum = 0;
      if ((absorbed[0] as number) >= 0)
        sum += 0.5 * (sigma[e * side + 2 * s] as number) + (sigma[e * side + 2 * s + 1] as number);
      if ((absorbed[1] as number) >= 0) sum += sigma[e * side + q + 2 * s] as number;
      loaded[e * t + s] = sum;
    }
  }
  const gain = new Float64Array(side * t);
  for (let e = 0; e < side; e++) {
    for (let s = 0; s < t; s++) {
      let sum = 0;
      for (let u = 0; u < t; u++)
        sum += (loaded[e * t + u] as number) * (observations.weight[(record * t + u) * t + s] as number);
      gain[e * t + s] = sum;
    }
  }
  subtractDesign(equations, given, { record, support, m, gain });
  for (let e = 0; e < side; e++) {
    for (let f = 0; f < side; f++) {
      let sum = 0;
      for (let s = 0; s < t; s++) sum += (gain[e * t + s] as number) * (loaded[f * t + s] as number);
      sigma[e * side + f] = (sigma[e * side + f] as number) - sum;
    }
  }
}

type Subtracting = { record: number; support: Support; m: Float64Array; gain: Float64Array };

/** M −= gain · B. */
function subtractDesign({ system }: Equations, { classOf }: Inverse, { record, support, m, gain }: Subtracting): void {
  const { traits: t, effects: q, observations, features, factors } = system;
  const subtract = (column: number, trait: number, load: number) => {
    for (let e = 0; e < 2 * q; e++) {
      const at = e * support.width + column;
      m[at] = (m[at] as number) - load * (gain[e * t + trait] as number);
    }
  };
  for (const feature of [observations.left[record] as number, observations.right[record] as number]) {
    if (feature < 0) continue;
    for (let k = features.start[feature] as number; k < (features.start[feature + 1] as number); k++) {
      const at = support.at.get(features.node[k] as number) as number;
      for (let s = 0; s < t; s++) {
        subtract(at + 2 * s, s, features.first[k] as number);
        subtract(at + 2 * s + 1, s, features.second[k] as number);
      }
    }
  }
  const firstClass = system.recursion.size;
  const fixed = [firstClass + (classOf[record] as number)];
  for (let k = 0; k < factors; k++) {
    const level = observations.levels[record * factors + k] as number;
    if (level >= 0) fixed.push(firstClass + classesOf(system) + level);
  }
  for (const vertex of fixed) for (let s = 0; s < t; s++) subtract((support.at.get(vertex) as number) + s, s, 1);
}

type Through = { record: number; support: Support; m: Float64Array; sigma: Float64Array };

/** M C⁻¹ M' + Σ. */
function throughInverse({ system }: Equations, { blocks }: Inverse, { record, support, m, sigma }: Through): PairError {
  const rows = 2 * system.effects;
  const { vertices, at, width } = support;
  const widthOf = (v: number) => (v < system.recursion.size ? system.effects : system.traits);
  const block = new Float64Array(Math.max(system.effects, system.traits) ** 2);
  const product = new Float64Array(rows * width);
  for (const v of vertices) {
    for (const w of vertices) {
      blocks(record, v, w, block);
      const [high, wide] = [widthOf(v), widthOf(w)];
      const [from, to] = [at.get(v) as number, at.get(w) as number];
      for (let e = 0; e < rows; e++) {
        for (let j = 0; j < wide; j++) {
          let sum = 0;
          for (let i = 0; i < high; i++) sum += (m[e * width + from + i] as number) * (block[i * wide + j] as number);
          product[e * width + to + j] = (product[e * width + to + j] as number) + sum;
        }
      }
    }
  }
  const out = sigma.slice();
  for (let e = 0; e < rows; e++) {
    for (let f = 0; f < rows; f++) {
      let sum = 0;
      for (let k = 0; k < width; k++) sum += (product[e * width + k] as number) * (m[f * width + k] as number);
      out[e * rows + f] = (out[e * rows + f] as number) + sum;
    }
  }
  return out;
}
