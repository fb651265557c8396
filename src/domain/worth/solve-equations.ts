import type { Solved } from '#numeric/mixed/conjugate-gradients.ts';
import { classSolutions, fittedWithout, makeVector, type Operator, rightHandSide } from '#numeric/mixed/operator.ts';
import { makeSolver } from '#numeric/mixed/solver.ts';
import type { Equations } from './equations.ts';

/** Solutions of an evaluation for every row of the full recursion (queens and pools), and of the fixed effects. */
export type Solutions = Solved & {
  /** `full rows × effects`: worker and queen effect of each trait in turn. */
  effects: Float64Array;
  /** `classes × traits` of the leading fixed effect, then `levels × traits` of the further ones (without their first levels). */
  leading: Float64Array;
  further: Float64Array;
};

/** When the solving ends: at the tolerance, after so many iterations (default 5000), or when `progress`, told after each, answers `false`. */
export type SolveOptions = {
  /** Relative residual to stop at; default 1e-10. */
  tolerance?: number;
  mostIterations?: number;
  progress?: (iteration: number, residual: number) => boolean | undefined;
};

/**
 * Solves the equations by preconditioned conjugate gradients (Hestenes and Stiefel 1952, J Res Natl Bur Stand 49:409) and brings the absorbed queens and pools
 * back: parents' average plus own variance · G · what their record left over (exact). Stops at a relative residual of 1e-10 or after 5000 iterations unless
 * told otherwise, and says which it reached; a caller may stop it by answering `false` from `progress`. `effects` is `rows of the full recursion × 2t`, in the
 * records' units; `leading` of a trait nobody recorded in a class has no meaning.
 * @example solveEquations(workedEquations()).leading // [40.9456, 26.3734]; what the two yards gave, kg
 */
export function solveEquations(equations: Equations, options: SolveOptions = {}): Solutions {
  const { system } = equations;
  const solver = makeSolver(system);
  const { operator } = solver;
  const b = makeVector(system);
  rightHandSide(operator, system.observations.y, b);
  const x = makeVector(system);
  const solved = solver.solve(b, x, {
    tolerance: options.tolerance ?? 1e-10,
    mostIterations: options.mostIterations ?? 5000,
    ...(options.progress ? { onIteration: options.progress } : {}),
  });
  const { observations, recursion, effects, traits } = system;
  const fitted = fittedWithout(operator, x);
  const leading = classSolutions(operator, observations.y, fitted);
  const residuals = weightedResiduals(operator, fitted, leading);
  return {
    ...solved,
    effects: everyRow(equations, x, residuals),
    leading,
    further: x.slice(recursion.size * effects, recursion.size * effects + system.levelCount * traits),
  };
}

/**
 * `W_r (y_r − Xb − f_r)` of every record, `records × traits` in the order of the equations, in 1/unit: what it left over, given what all but the leading
 * effect explains (`fitted`, records × traits) and the leading effect's solutions (classes × traits).
 * @param y records × traits; those of the equations when left out
 * @example const { system } = workedEquations(); const fitted = new Float64Array(6);
 * weightedResiduals(makeOperator(system), fitted, Float64Array.of(40, 26))[0] // 0.20; (42 − 40) / 10
 */
export function weightedResiduals(
  { system }: Operator,
  fitted: Float64Array,
  leading: Float64Array,
  y: Float64Array = system.observations.y,
): Float64Array {
  const { observations, traits: t } = system;
  const { weight, classStart } = observations;
  const out = new Float64Array(observations.count * t);
  for (let c = 0; c + 1 < classStart.length; c++) {
    for (let r = classStart[c] as number; r < (classStart[c + 1] as number); r++) {
      for (let s = 0; s < t; s++) {
        const at = r * t + s;
        const rest = (y[at] as number) - (fitted[at] as number) - (leading[c * t + s] as number);
        for (let u = 0; u < t; u++) {
          out[r * t + u] = (out[r * t + u] as number) + (weight[(r * t + u) * t + s] as number) * rest;
        }
      }
    }
  }
  return out;
}

/** Effects of every row of the full recursion: kept ones as solved, absorbed ones from their parents and their one record. */
function everyRow(equations: Equations, x: Float64Array, residuals: Float64Array): Float64Array {
  const { part } = equations.descent;
  const { kept } = equations;
  const q = equations.system.effects;
  const rows = part.recursion.size;
  const positive = new Float64Array(rows * q);
  const load = new Float64Array(q);
  for (let row = 0; row < rows; row++) {
    const at = kept[row] as number;
    if (at >= 0) for (let e = 0; e < q; e++) positive[row * q + e] = x[at * q + e] as number;
    else comeBack(equations, row, positive, residuals, load);
  }
  if (part.start.length - 1 === rows && part.row === part.from) return positive;
  const full = new Float64Array((part.start.length - 1) * q);
  for (let i = 0; i + 1 < part.start.length; i++) {
    for (let k = part.start[i] as number; k < (part.start[i + 1] as number); k++) {
      const from = (part.row[k] as number) * q;
      const weight = part.weight[k] as number;
      for (let e = 0; e < q; e++)
        full[i * q + e] = (full[i * q + e] as number) + weight * (positive[from + e] as number);
    }
  }
  return full;
}

/** Parents' average plus own · G · (what its record left over), into `positive` at `row`. */
function comeBack(
  equations: Equations,
  row: number,
  positive: Float64Array,
  residuals: Float64Array,
  load: Float64Array,
): void {
  const { descent, model, recordOf, system } = equations;
  const { start, older, weight, own } = descent.part.recursion;
  const { effects: q, traits: t } = system;
  for (let k = start[row] as number; k < (start[row + 1] as number); k++) {
    const from = (older[k] as number) * q;
    const w = weight[k] as number;
    for (let e = 0; e < q; e++)
      positive[row * q + e] = (positive[row * q + e] as number) + w * (positive[from + e] as number);
  }
  const record = recordOf[row] as number;
  if (record < 0) return;
  const isPool = descent.isPool[descent.part.from[row] as number] === 1;
  const scale = own[row] as number;
  for (let s = 0; s < t; s++) {
    const rest = scale * (residuals[record * t + s] as number);
    load[2 * s] = isPool ? rest : 0.5 * rest;
    load[2 * s + 1] = isPool ? 0 : rest;
  }
  for (let e = 0; e < q; e++) {
    let sum = positive[row * q + e] as number;
    for (let f = 0; f < q; f++) sum += (model.G[e * q + f] as number) * (load[f] as number);
    positive[row * q + e] = sum;
  }
}
