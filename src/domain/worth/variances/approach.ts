/** Newton steps on sampled derivatives: towards the maximum without a likelihood to check by, as far as the drawing lets one see. */
import type { Equations } from '../equations.ts';
import type { Model } from '../model.ts';
import { factorsOf, modelAt, slopeIn, stepped } from './cholesky-space.ts';
import type { Derivatives } from './likelihood.ts';
import { dampedStep } from './maximise.ts';
import { type Sampling, sampledDerivatives } from './sampled.ts';

/** Where the steps ended: the model, the derivatives there, and whether the last step promised less than the tolerance. */
export type Approached = { model: Model; derivatives: Derivatives; iterations: number; converged: boolean };

/** How far to go; `progress` is told after every iteration what the next step promises in ℓ, and stops by answering `false`. */
export type ApproachOptions = Sampling & {
  mostIterations: number;
  /** Stop when the next step promises less than this in ℓ. */
  tolerance: number;
  /** Do not look at the slope where the last step ended: whoever goes on from there looks anyway. */
  endsBlind?: boolean;
  progress?: (iteration: number, promised: number) => boolean | undefined;
};

/** No entry of the factors moves by more than this part of the root of its variance at one step. */
const MOST_MOVE = 0.4;

/** Steps from a model until the next one promises little, or there have been enough. */
export function approach(equations: Equations, start: Model, options: ApproachOptions): Approached {
  const traits = start.traits.length;
  let model = modelAt(start, factorsOf(start));
  for (let iterations = 0; ; iterations++) {
    const derivatives = sampledDerivatives(equations, model, options);
    const factors = factorsOf(model);
    const slope = slopeIn(factors, derivatives.score, derivatives.information, traits);
    const damped = firstDamped(slope);
    const done = damped.promised < options.tolerance;
    const isLast = iterations >= options.mostIterations || options.progress?.(iterations, damped.promised) === false;
    if (done || isLast) return { model, derivatives, iterations, converged: done };
    model = modelAt(model, stepped(factors, limited(damped.step, factors.G.l, factors.R.l), traits));
    if (options.endsBlind && iterations + 1 >= options.mostIterations)
      return { model, derivatives, iterations: iterations + 1, converged: false };
  }
}

function firstDamped(slope: Parameters<typeof dampedStep>[0]): { step: Float64Array; promised: number } {
  for (let damping = 1e-4; damping < 1e10; damping *= 10) {
    const damped = dampedStep(slope, damping);
    if (damped) return damped;
  }
  return { step: new Float64Array(slope.gradient.length), promised: 0 };
}

/** A step cut back so that no entry moves too far at once. */
function limited(step: Float64Array, G: Float64Array, R: Float64Array): Float64Array {
  const largest = (l: Float64Array) => l.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  const room = MOST_MOVE * Math.min(largest(G), largest(R));
  const move = largest(step);
  return move > room ? step.map((value) => (value * room) / move) : step;
}
