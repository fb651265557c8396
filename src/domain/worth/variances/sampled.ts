/**
 * Derivatives of the restricted likelihood for stocks too large to factor: what the quadratic forms are on average is found from values drawn from
 * the model itself (García-Cortés and others 1992, J Anim Breed Genet 109:358; from memory). The same standard normals are used at every point, so that the search
 * sees one smooth surface, and the same draws give the same bits on any number of threads.
 */
import { choleskyInPlace } from '#numeric/dense/small-matrix.ts';
import { classSolutions, fittedWithout, makeVector, rightHandSide } from '#numeric/mixed/operator.ts';
import { type Project, weightedRest } from '#numeric/mixed/projection.ts';
import { recordFeatures } from '#numeric/mixed/record-features.ts';
import { makeSolver, type Solver } from '#numeric/mixed/solver.ts';
import { classesOf } from '#numeric/mixed/system.ts';
import { randomStream } from '#numeric/random/random-stream.ts';
import { type Equations, reweigh } from '../equations.ts';
import type { Model } from '../model.ts';
import { type Forms, quadraticForms } from './forms.ts';
import { averageInformation, type Derivatives, halfDifference } from './likelihood.ts';

/** Relative residual at which a drawn right-hand side counts as solved; its error is far below that of the drawing. */
const DRAWN = 1e-5;
const OWN = 1e-9;

/**
 * Projection `y → Py` (records × traits) by conjugate gradients to a relative residual, instead of a factor; at most 2000 rounds.
 * @param tolerance relative residual, such as 1e-9
 * @example const equations = workedEquations(); const { observations } = equations.system;
 * const { weighted } = projectByIteration(equations, makeSolver(equations.system), 1e-10)(observations.y);
 * weighted[0] + weighted[1] + weighted[2] // 0.000000; the three colonies of one yard: X'Py = 0
 */
export function projectByIteration(equations: Equations, solver: Solver, tolerance: number): Project {
  const { system } = equations;
  const b = makeVector(system);
  return (y) => {
    rightHandSide(solver.operator, y, b);
    const x = makeVector(system);
    solver.solve(b, x, { tolerance, mostIterations: 2000 });
    const nodes = x.subarray(0, system.recursion.size * system.effects);
    const levels = x.subarray(nodes.length);
    return {
      nodes,
      weighted: weightedRest(system, y, {
        nodes,
        classes: classSolutions(solver.operator, y, fittedWithout(solver.operator, x)),
        levels,
      }),
    };
  };
}

/**
 * Values drawn from the model, records × traits (0 where a trait is not recorded), fixed effects 0: kept nodes down the recursion, `u_i = Σ w u + √d_i L z`,
 * then every record with what it absorbed. The same seed and draw give the same normals under any G and R.
 * @example drawValues(workedEquations(), 1, 0).length // 6
 */
export function drawValues(equations: Equations, seed: number, draw: number): Float64Array {
  const { system, model } = equations;
  const { recursion, effects: q, traits: t, observations } = system;
  const random = randomStream(seed, draw);
  const lG = model.G.slice();
  choleskyInPlace(lG, q);
  const nodes = new Float64Array(recursion.size * q);
  const z = new Float64Array(q);
  for (let i = 0; i < recursion.size; i++) {
    for (let e = 0; e < q; e++) z[e] = random.normal();
    const scale = Math.sqrt(recursion.own[i] as number);
    for (let e = 0; e < q; e++) {
      let value = 0;
      for (let k = 0; k <= e; k++) value += (lG[e * q + k] as number) * (z[k] as number);
      value *= scale;
      for (let k = recursion.start[i] as number; k < (recursion.start[i + 1] as number); k++) {
        value += (recursion.weight[k] as number) * (nodes[(recursion.older[k] as number) * q + e] as number);
      }
      nodes[i * q + e] = value;
    }
  }
  const y = recordFeatures(system, nodes);
  addRandom(equations, random.normal, y);
  for (let r = 0; r < observations.count; r++) addResidual(equations, r, random.normal, y.subarray(r * t, r * t + t));
  return y;
}

/** Adds a drawn level of the random effect to the records of each of its classes. */
function addRandom({ system, model }: Equations, normal: () => number, y: Float64Array): void {
  if (model.random === undefined) return;
  const { traits: t, observations } = system;
  const l = model.random.covariance.slice();
  choleskyInPlace(l, t);
  const z = new Float64Array(t);
  for (let c = 0; c < classesOf(system); c++) {
    for (let s = 0; s < t; s++) z[s] = normal();
    for (let s = 0; s < t; s++) {
      let value = 0;
      for (let k = 0; k <= s; k++) value += (l[s * t + k] as number) * (z[k] as number);
      for (let r = observations.classStart[c] as number; r < (observations.classStart[c + 1] as number); r++)
        y[r * t + s] = (y[r * t + s] as number) + value;
    }
  }
}

/** Adds a residual with the covariance the record's weight is the inverse of: W = L L', e = L'⁻¹ z on the traits recorded. */
function addResidual({ system, present }: Equations, r: number, normal: () => number, y: Float64Array): void {
  const { traits: t, observations } = system;
  if (t === 1) {
    const weight = observations.weight[r] as number;
    y[0] = weight > 0 ? (y[0] as number) + normal() / Math.sqrt(weight) : 0;
    return;
  }
  const traits = Array.from({ length: t }, (_, s) => s).filter((s) => ((present[r] as number) >> s) & 1);
  const n = traits.length;
  const l = Float64Array.from(
    { length: n * n },
    (_, k) =>
      observations.weight[(r * t + (traits[Math.floor(k / n)] as number)) * t + (traits[k % n] as number)] as number,
  );
  choleskyInPlace(l, n);
  const e = Float64Array.from({ length: n }, () => normal());
  for (let i = n - 1; i >= 0; i--) {
    let sum = e[i] as number;
    for (let k = i + 1; k < n; k++) sum -= (l[k * n + i] as number) * (e[k] as number);
    e[i] = sum / (l[i * n + i] as number);
  }
  for (const [i, s] of traits.entries()) y[s] = (y[s] as number) + (e[i] as number);
}

/** Seed of the draws, and how many of them; the error of a score falls with the root of their number. */
export type Sampling = { seed: number; draws: number };

/**
 * Score and average information at G and R; M is the mean of {@link quadraticForms} over the draws, so that the error of a score element is about
 * √(information / draws). Time grows with draws × records.
 * The exact score of R in the example is 0.1431.
 * @example const { model } = workedPrepared();
 * sampledDerivatives(workedEquations(), model, { seed: 1, draws: 4000 }).score.R // [0.14]
 */
export function sampledDerivatives(equations: Equations, model: Model, sampling: Sampling): Derivatives {
  const here = reweigh(equations, model);
  const { effects: q, traits: t, observations } = here.system;
  const solver = makeSolver(here.system);
  const project = projectByIteration(here, solver, OWN);
  const drawn = projectByIteration(here, solver, DRAWN);
  const expected: Forms = { G: new Float64Array(q * q), R: new Float64Array(t * t) };
  for (let draw = 0; draw < sampling.draws; draw++) {
    const forms = quadraticForms(here, drawn(drawValues(here, sampling.seed, draw)));
    for (let k = 0; k < q * q; k++) expected.G[k] = (expected.G[k] as number) + (forms.G[k] as number) / sampling.draws;
    for (let k = 0; k < t * t; k++) expected.R[k] = (expected.R[k] as number) + (forms.R[k] as number) / sampling.draws;
  }
  const projected = project(observations.y);
  return {
    score: halfDifference(quadraticForms(here, projected), expected),
    information: averageInformation(here, projected, drawn),
  };
}
