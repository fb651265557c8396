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

export type SolveOptions = {
  /** Relative residual to stop at; default 1e-10. */
  tolerance?: number;
  mostIterations?: number;
  progress?: (iteration: number, residual: number) => boolean | undefined;
};

/** Solves the equations by conjugate gradients and brings the absorbed queens and pools back. */
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
  const leading = classSolutions(operator, observations.y, x);
  const residuals = weightedResiduals(operator, x, leading);
  return {
    ...solved,
    effects: everyRow(equations, x, residuals),
    leading,
    further: x.slice(recursion.size * effects, recursion.size * effects + system.levelCount * traits),
  };
}

/** `W_r (y_r − Xb − f_r)` of every record. */
export function weightedResiduals(operator: Operator, x: Float64Array, leading: Float64Array): Float64Array {
  const { observations, traits } = operator.system;
  const fitted = fittedWithout(operator, x);
  const out = new Float64Array(observations.count * traits);
  for (let c = 0; c + 1 < observations.classStart.length; c++) {
    for (let r = observations.classStart[c] as number; r < (observations.classStart[c + 1] as number); r++) {
      for (let t = 0; t < traits; t++) {
        for (let s = 0; s < traits; s++) {
          const at = r * traits + s;
          const rest = (observations.y[at] as number) - (fitted[at] as number) - (leading[c * traits + s] as number);
          out[r * traits + t] =
            (out[r * traits + t] as number) + (observations.weight[(r * traits + t) * traits + s] as number) * rest;
        }
      }
    }
  }
  return out;
}

/** Effects of every row of the full recursion: kept ones as solved, absorbed ones from their parents and their one record. */
export function everyRow(equations: Equations, x: Float64Array, residuals: Float64Array): Float64Array {
  const { part } = equations.descent;
  const q = equations.system.effects;
  const positive = new Float64Array(part.recursion.size * q);
  for (let row = 0; row < part.recursion.size; row++) {
    const at = equations.kept[row] as number;
    if (at >= 0) positive.set(x.subarray(at * q, (at + 1) * q), row * q);
    else comeBack(equations, { row, positive, residuals });
  }
  const full = new Float64Array((part.start.length - 1) * q);
  for (let i = 0; i + 1 < part.start.length; i++) {
    for (let k = part.start[i] as number; k < (part.start[i + 1] as number); k++) {
      for (let e = 0; e < q; e++) {
        full[i * q + e] =
          (full[i * q + e] as number) +
          (part.weight[k] as number) * (positive[(part.row[k] as number) * q + e] as number);
      }
    }
  }
  return full;
}

type Return = { row: number; positive: Float64Array; residuals: Float64Array };

/** Parents' average plus own · G · (what its record left over). */
function comeBack(equations: Equations, { row, positive, residuals }: Return): void {
  const { descent, model, recordOf, system } = equations;
  const { start, older, weight, own } = descent.part.recursion;
  const q = system.effects;
  for (let k = start[row] as number; k < (start[row + 1] as number); k++) {
    for (let e = 0; e < q; e++) {
      positive[row * q + e] =
        (positive[row * q + e] as number) + (weight[k] as number) * (positive[(older[k] as number) * q + e] as number);
    }
  }
  const record = recordOf[row] as number;
  if (record < 0) return;
  const isPool = descent.isPool[descent.part.from[row] as number] === 1;
  for (let e = 0; e < q; e++) {
    let sum = 0;
    for (let t = 0; t < system.traits; t++) {
      const worker = model.G[e * q + 2 * t] as number;
      const load = isPool ? worker : 0.5 * worker + (model.G[e * q + 2 * t + 1] as number);
      sum += load * (residuals[record * system.traits + t] as number);
    }
    positive[row * q + e] = (positive[row * q + e] as number) + (own[row] as number) * sum;
  }
}
