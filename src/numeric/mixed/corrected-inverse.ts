import { randomStream } from '../random/random-stream.ts';
import { approximateInverse, type CorrectedInverse } from './approximate-inverse.ts';
import { applyFactor, blockFactor } from './block-factor.ts';
import { makeOperator, makeVector, multiply } from './operator.ts';
import { smoothCorrection } from './smooth-correction.ts';
import { type MixedSystem, unknownsOf } from './system.ts';

/** Directions for each trait (traits of like heritability have like directions), as far as memory goes. */
const STEPS = 24;
/** Doubles the directions may take. */
const MOST_DOUBLES = 6e7;

/** The inverse of a system where records and the recursion couple nodes, approximately. Deterministic (its random start is fixed). */
export function correctedInverse(system: MixedSystem): CorrectedInverse {
  const factor = blockFactor(system);
  const operator = makeOperator(system);
  const random = randomStream(1);
  const starts = Array.from({ length: system.traits }, () => makeVector(system).map(() => random.normal()));
  const room = Math.floor(MOST_DOUBLES / (2 * unknownsOf(system) + 1));
  const steps = Math.max(1, Math.min(STEPS * system.traits, room));
  const correction = smoothCorrection(
    { multiply: (x, out) => multiply(operator, x, out), precondition: (r, z) => applyFactor(factor, r, z) },
    starts,
    steps,
  );
  return { inverse: approximateInverse(factor), correction };
}
