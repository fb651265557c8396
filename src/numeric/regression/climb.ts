import { choleskyInPlace, type Square, solveCholesky } from '../dense/small-matrix.ts';
import type { Refusal } from './features.ts';

/** A log-likelihood at one place, with its slope (`size` numbers) and the information, less its curvature (`size × size`). */
export type Place = { logLikelihood: number; score: Float64Array; information: Square };

/** The top of a log-likelihood: coefficients, what it is there, and the steps it took. */
export type Top<P extends Place> = { b: Float64Array; at: P; iterations: number };

const STEPS = 40;
/** A coefficient whose step still moves a case this far in the linear predictor when the climb is given up runs away. */
const STILL_RUNNING = 0.05;
/** Linear predictors so far apart are never reached by a likelihood that has its top within reach. */
const ENDLESS = 30;

const farthest = (b: Float64Array, reach: Float64Array) =>
  b.reduce((most, value, k) => Math.max(most, Math.abs(value) * (reach[k] as number)), 0);

function endless(step: Float64Array, b: Float64Array, reach: Float64Array): Refusal {
  const runs = [...step.keys()].filter((k) => Math.abs(step[k] as number) * (reach[k] as number) > STILL_RUNNING);
  const far = [...b.keys()].sort((i, j) => Math.abs(b[j] as number) - Math.abs(b[i] as number));
  return { refused: 'parted', columns: runs.length > 0 ? runs : far.slice(0, 1) };
}

/**
 * Newton's step, or null when the information has vanished in some direction.
 * @example newtonStep({ logLikelihood: 0, score: Float64Array.of(2), information: Float64Array.of(4) }) // [0.5]
 */
export function newtonStep({ information, score }: Place): Float64Array | null {
  const l = information.slice();
  return choleskyInPlace(l, score.length) ? solveCholesky(l, score.length, score.slice()) : null;
}

/**
 * The top of a concave log-likelihood from 0, by Newton's method with halved steps; `parted` when it has none, with the coefficients that run away.
 * @param evaluate the likelihood at some coefficients
 * @param reach how far one unit of each coefficient moves the linear predictor at most
 * @example const hill = ([b]) => ({ logLikelihood: -0.5 * (b - 3) ** 2, score: Float64Array.of(3 - b), information: Float64Array.of(1) });
 * climb(hill, Float64Array.of(1)).b // [3]
 */
export function climb<P extends Place>(evaluate: (b: Float64Array) => P, reach: Float64Array): Top<P> | Refusal {
  let b: Float64Array = new Float64Array(reach.length);
  let at = evaluate(b);
  let step: Float64Array = b;
  for (let iterations = 1; iterations <= STEPS; iterations++) {
    const found = newtonStep(at);
    if (found === null || farthest(b, reach) > ENDLESS) return endless(step, b, reach);
    step = found;
    // No case moves by more than 5 in one step.
    let size = Math.min(1, 5 / Math.max(5, farthest(step, reach)));
    let next = b;
    let there = at;
    for (let halved = 0; halved < 30; halved++, size /= 2) {
      next = b.map((value, k) => value + size * (step[k] as number));
      there = evaluate(next);
      if (there.logLikelihood >= at.logLikelihood - 1e-12 * Math.abs(at.logLikelihood)) break;
    }
    b = next;
    at = there;
    if (farthest(step, reach) < 1e-9) return { b, at, iterations };
  }
  return endless(step, b, reach);
}
