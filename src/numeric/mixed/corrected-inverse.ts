import { randomStream } from '../random/random-stream.ts';
import { approximateInverse, type CorrectedInverse } from './approximate-inverse.ts';
import { applyFactor, blockFactor } from './block-factor.ts';
import { makeOperator, makeVector, multiply } from './operator.ts';
import { smoothCorrection } from './smooth-correction.ts';
import type { MixedSystem } from './system.ts';

/** Lanczos steps; more help little, because what they add is spread over ever more directions. */
const STEPS = 24;

/** The inverse of a system where records and the recursion couple nodes, approximately. Deterministic (its random start is fixed). */
export function correctedInverse(system: MixedSystem, steps = STEPS): CorrectedInverse {
  const factor = blockFactor(system);
  const operator = makeOperator(system);
  const random = randomStream(1);
  const start = makeVector(system).map(() => random.normal());
  const correction = smoothCorrection(
    { multiply: (x, out) => multiply(operator, x, out), precondition: (r, z) => applyFactor(factor, r, z) },
    start,
    steps,
  );
  return { inverse: approximateInverse(factor), correction };
}
