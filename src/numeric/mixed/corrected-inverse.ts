import { randomStream } from '../random/random-stream.ts';
import { approximateInverse, type CorrectedInverse } from './approximate-inverse.ts';
import { makeVector } from './operator.ts';
import { smoothCorrection } from './smooth-correction.ts';
import { makeSolver } from './solver.ts';
import { type MixedSystem, unknownsOf } from './system.ts';

/** Directions for each trait (traits of like heritability have like directions), as far as memory goes. */
const STEPS = 24;
/** Doubles the directions may take while they are made: three vectors each. */
const MOST_DOUBLES = 6e7;

/**
 * The inverse of a system where records and the recursion couple nodes, approximately: `C⁻¹ ≈` that of the incomplete factor plus up to 24 smooth
 * directions a trait. Deterministic (its random start is fixed). Time: a product and a preconditioning a direction; memory: three vectors of
 * unknowns a direction while they are made (there are fewer of them where that would be more than 720 MB), one afterwards.
 * The example is so small that the correction makes it exact: the inverse of (11 −7; −7 11) / 6 has 11/12 on its diagonal.
 * @example const { inverse, correction } = correctedInverse(workedSystem);
 * let first = inverse.own[0];
 * for (let k = 0; k < correction.steps; k++) first += correction.gain[k] * correction.direction[k * correction.length] ** 2;
 * first.toFixed(5) // '0.91667'
 */
export function correctedInverse(system: MixedSystem): CorrectedInverse {
  const solver = makeSolver(system);
  const random = randomStream(1);
  const starts = Array.from({ length: system.traits }, () => makeVector(system).map(() => random.normal()));
  const room = Math.floor(MOST_DOUBLES / (3 * unknownsOf(system) + 1));
  const steps = Math.max(1, Math.min(STEPS * system.traits, room));
  const correction = smoothCorrection(solver, starts, steps);
  return { inverse: approximateInverse(solver.factor), correction };
}
