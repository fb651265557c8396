/** Restricted maximum likelihood by damped Newton steps (Levenberg 1944, Marquardt 1963) with average information, exactly. */
import { choleskyInPlace, solveCholesky } from '#numeric/dense/small-matrix.ts';
import type { DirectPattern } from '#numeric/mixed/direct.ts';
import type { Equations } from '../equations.ts';
import type { Model } from '../model.ts';
import { type Factors, factorsOf, modelAt, type Slope, slopeIn, stepped } from './cholesky-space.ts';
import { type Derivatives, derivativesAt, type Point, pointAt } from './likelihood.ts';

/** Where the climb ended; `converged` when it stopped because nothing more was to be had, not because it was stopped. */
export type Maximum = {
  model: Model;
  logLikelihood: number;
  iterations: number;
  converged: boolean;
  /** Average information between the parameters (lower triangle of G, then of R) at the maximum. */
  information: Float64Array;
  /** Score at the maximum, for what still pulls. */
  derivatives: Derivatives;
};

/** When the climb ends. */
export type MaximiseOptions = {
  /** Stop when the next step promises less than this in ℓ; default 1e-5. */
  tolerance?: number;
  /**
   * Stop after a step that promised less than this and kept its promise, without looking at the slope again; default 0 (never). What is left then is
   * a small part of the promise, because average information differs little from the curvature.
   */
  lastPromise?: number;
  mostIterations?: number;
  /** Called after every iteration; `false` stops. */
  progress?: (iteration: number, logLikelihood: number) => boolean | undefined;
};

/**
 * The step of `(curvature + damping · diagonal) step = gradient`, and what it promises in ℓ if the parabola held, ½ step'gradient; null when the damped
 * curvature is not positive definite.
 * @param damping ≥ 0; larger is shorter and nearer the slope
 * @example dampedStep({ gradient: Float64Array.of(2), curvature: Float64Array.of(4) }, 0) // { step: [0.5], promised: 0.5 }
 */
export function dampedStep(
  { gradient, curvature }: Slope,
  damping: number,
): { step: Float64Array; promised: number } | null {
  const n = gradient.length;
  const a = curvature.slice();
  let most = 0;
  for (let i = 0; i < n; i++) most = Math.max(most, Math.abs(a[i * n + i] as number));
  for (let i = 0; i < n; i++)
    a[i * n + i] = (a[i * n + i] as number) + damping * Math.max(Math.abs(a[i * n + i] as number), 1e-8 * most);
  if (!choleskyInPlace(a, n)) return null;
  const step = solveCholesky(a, n, gradient.slice());
  const promised = 0.5 * step.reduce((sum, value, k) => sum + value * (gradient[k] as number), 0);
  return { step, promised };
}

const FIRST_DAMPING = 1e-3;
const LEAST_DAMPING = 1e-8;
const MOST_DAMPING = 1e10;
/** A promise below this that is not kept is rounding at an edge (a correlation of ±1, a variance of 0), not a hill still to be climbed. */
const NOISE = 1e-3;

type State = { factors: Factors; model: Model; point: Point; damping: number; promised: number; kept: number };

/**
 * The G and R under which the records are likeliest, climbing from the model's own (positive definite). Each step is damped until ℓ rises; so ℓ never falls,
 * and as the entries of the factors are what moves, G and R never leave what can be. `converged` says that no step promised more than the tolerance (or the
 * last one kept a small promise), not that there is no other hill.
 * @example const equations = workedEquations(); const pattern = directPattern(equations.system);
 * maximise(equations, pattern, workedPrepared().model).logLikelihood // -9.23175; six records are too few: R goes to 0
 */
export function maximise(
  equations: Equations,
  pattern: DirectPattern,
  start: Model,
  options: MaximiseOptions = {},
): Maximum {
  const { tolerance = 1e-5, mostIterations = 60, lastPromise = 0 } = options;
  const traits = start.traits.length;
  const factors = factorsOf(start);
  const model = modelAt(start, factors);
  let state: State = {
    factors,
    model,
    point: pointAt(equations, pattern, model),
    damping: FIRST_DAMPING,
    promised: Number.POSITIVE_INFINITY,
    kept: 0,
  };
  let iterations = 0;
  for (;;) {
    const derivatives = derivativesAt(state.point, pattern);
    const slope = slopeIn(state.factors, derivatives.score, derivatives.information, traits);
    const next = iterations < mostIterations ? climb(equations, pattern, state, { slope, tolerance }) : 'stuck';
    const { logLikelihood } = state.point;
    if (typeof next === 'string') {
      return {
        model: state.model,
        logLikelihood,
        iterations,
        converged: next === 'there',
        information: derivatives.information,
        derivatives,
      };
    }
    iterations++;
    state = next;
    if (next.promised < lastPromise && Math.abs(next.kept - 1) < 0.12) {
      options.progress?.(iterations, state.point.logLikelihood);
      return {
        model: state.model,
        logLikelihood: state.point.logLikelihood,
        iterations,
        converged: true,
        information: derivatives.information,
        derivatives,
      };
    }
    if (options.progress?.(iterations, state.point.logLikelihood) === false) {
      const last = derivativesAt(state.point, pattern);
      return {
        model: state.model,
        logLikelihood: state.point.logLikelihood,
        iterations,
        converged: false,
        information: last.information,
        derivatives: last,
      };
    }
  }
}

/** The next state up the slope; `there` when no step promises anything, `stuck` when none keeps its promise. */
function climb(
  equations: Equations,
  pattern: DirectPattern,
  state: State,
  { slope, tolerance }: { slope: Slope; tolerance: number },
): State | 'there' | 'stuck' {
  const traits = state.model.traits.length;
  let first: number | null = null;
  for (let damping = state.damping; damping <= MOST_DAMPING; damping *= damping < 1e-2 ? 10 : 4) {
    const damped = dampedStep(slope, damping);
    if (damped === null) continue;
    first ??= damped.promised;
    if (damped.promised < tolerance && (damping <= 1 || damped.promised < tolerance * 1e-3)) return 'there';
    const factors = stepped(state.factors, damped.step, traits);
    const model = modelAt(state.model, factors);
    const point = pointAt(equations, pattern, model);
    if (!(point.logLikelihood > state.point.logLikelihood)) continue;
    const kept = (point.logLikelihood - state.point.logLikelihood) / damped.promised;
    return {
      factors: factorsOf(model),
      model,
      point,
      damping: Math.max(LEAST_DAMPING, kept > 0.75 ? damping / 10 : damping),
      promised: damped.promised,
      kept,
    };
  }
  return (first ?? 0) < NOISE ? 'there' : 'stuck';
}
