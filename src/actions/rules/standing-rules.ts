import { damBeforeDaughter } from './dam-before-daughter.ts';
import { noLoopInDescent } from './no-loop-in-descent.ts';
import { oneCodeALivingQueen } from './one-code-a-living-queen.ts';
import { onePlaceAQueen } from './one-place-a-queen.ts';
import type { StandingRule } from './standing-rule.ts';
import { tubeNotOverdrawn } from './tube-not-overdrawn.ts';

/** Every rule that must hold after any act, a step back included. */
export const standingRules: readonly StandingRule[] = [
  oneCodeALivingQueen,
  noLoopInDescent,
  damBeforeDaughter,
  onePlaceAQueen,
  tubeNotOverdrawn,
];
