import { isLoss, type Outcome } from './outcome.ts';
import { aliveAtFirstCheck } from './tally.ts';

/** One step of the losses stairs: so many queens reached it, of so many whose story is known that far. */
export type Stair = { step: 'inseminated' | 'alive-at-check' | 'laying' | 'still-there'; reached: number; of: number };

/**
 * Where the queens went, as descending steps: inseminated, alive at the first check, laying (capped worker brood), still there.
 * Each step counts only queens whose story is known that far; those not yet known, and those sold, given or sampled before,
 * are left out of `of` and so drawn as open.
 */
export function stairsOf(outcomes: readonly Outcome[]): Stair[] {
  const decided = outcomes.filter((one) => one.laying !== null || isLoss(one));
  const checked = outcomes.filter((one) => one.checkedOn !== null || one.laying !== null || isLoss(one));
  const laying = decided.filter((one) => one.laying === true);
  const wentAlive = (one: Outcome) => one.lostOn !== null && !isLoss(one);
  const watched = laying.filter((one) => !wentAlive(one));
  return [
    { step: 'inseminated', reached: outcomes.length, of: outcomes.length },
    { step: 'alive-at-check', reached: checked.filter(aliveAtFirstCheck).length, of: checked.length },
    { step: 'laying', reached: laying.length, of: decided.length },
    {
      step: 'still-there',
      reached: watched.filter((one) => !isLoss(one)).length,
      of: decided.length - (laying.length - watched.length),
    },
  ];
}
