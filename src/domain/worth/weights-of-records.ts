/**
 * How much each record weighs in a breeding value: `k'û = Σ c_r (y_r − Xb̂)` with `c = P g`, `g = cov(y, k'u)` and P the projection of the restricted
 * likelihood. `g'Pg / k'(A⊗G)k` is the exact reliability of k'u. One solve a combination.
 */
import { makeSolver } from '#numeric/mixed/solver.ts';
import { covarianceWith } from '#numeric/recursion/recursion.ts';
import type { Equations } from './equations.ts';
import type { Records } from './records.ts';
import { projectByIteration } from './variances/sampled.ts';

/** One row of the full recursion (queen or pool) with weights on the effects, `2t` of them. */
export type Part = { row: number; effects: Float64Array };

/**
 * A combination over the effects of a queen and of the pool she carries (`combinationOf`, 4t numbers) as parts, the queen first; rows without weight are left
 * out.
 * @param queen index of a queen of the stock
 * @example partsOfCombination(workedEquations(), 0, combinationOf('drones', [1])).length // 1; her pool has no part in her as drone mother
 */
export function partsOfCombination({ descent }: Equations, queen: number, k: Float64Array): Part[] {
  const q = k.length / 2;
  const parts = [
    { row: descent.queenRow[queen] as number, effects: k.subarray(0, q) },
    { row: descent.carriedRow[queen] as number, effects: k.subarray(q) },
  ];
  return parts.filter(({ effects }) => effects.some((weight) => weight !== 0));
}

/** What each record weighs in one combination, and how sure that makes it. */
export type Weighed = {
  /** c, `records × traits` in the order of the equations; 0 where nothing was recorded. */
  weights: Float64Array;
  /** Exact reliability of the combination, 0-1. */
  reliability: number;
};

/**
 * Weighs combinations on the same equations, one after another; `tolerance` is the relative residual of their solves. The reliability is exact up to that:
 * `cov(k'u, y)' P cov(k'u, y) / var(k'u)`, P the projection of the restricted likelihood (Henderson 1975, Biometrics 31:423). 0 where k'u has no variance.
 * Weights in the unit of k'u for one of the record's.
 * @example const equations = workedEquations(); const weigh = weigher(equations, workedPrepared().records);
 * weigh(partsOfCombination(equations, 0, combinationOf('mother', [1]))).reliability // 0.0950; A
 */
export function weigher(
  equations: Equations,
  records: Records,
  tolerance = 1e-10,
): (parts: readonly Part[]) => Weighed {
  const project = projectByIteration(equations, makeSolver(equations.system), tolerance);
  return (parts) => {
    const { covariance, variance } = covariances(equations, records, parts);
    const { weighted } = project(covariance);
    const explained = weighted.reduce((sum, c, k) => sum + c * (covariance[k] as number), 0);
    return { weights: weighted, reliability: variance > 0 ? explained / variance : 0 };
  };
}

/** g of every record, and k'(A⊗G)k. */
function covariances(
  { descent, model, recordFrom, system, present }: Equations,
  records: Records,
  parts: readonly Part[],
): { covariance: Float64Array; variance: number } {
  const { traits: t, effects: q } = system;
  const covariance = new Float64Array(records.count * t);
  let variance = 0;
  for (const part of parts) {
    const loads = Float64Array.from({ length: q }, (_, e) =>
      part.effects.reduce((sum, v, f) => sum + v * (model.G[e * q + f] as number), 0),
    );
    const h = new Float64Array(descent.full.size);
    h[part.row] = 1;
    const column = covarianceWith(descent.full, h);
    for (let at = 0; at < records.count; at++) {
      const queen = records.queen[recordFrom[at] as number] as number;
      const ofQueen = column[descent.queenRow[queen] as number] as number;
      const ofPool = column[descent.carriedRow[queen] as number] as number;
      for (let s = 0; s < t; s++) {
        if (((present[at] as number) >> s) % 2 === 0) continue;
        const [worker, queenEffect] = [loads[2 * s] as number, loads[2 * s + 1] as number];
        covariance[at * t + s] =
          (covariance[at * t + s] as number) + (0.5 * ofQueen + ofPool) * worker + ofQueen * queenEffect;
      }
    }
    for (const other of parts) {
      const both = other.effects.reduce((sum, v, e) => sum + v * (loads[e] as number), 0);
      variance += (column[other.row] as number) * both;
    }
  }
  return { covariance, variance };
}
