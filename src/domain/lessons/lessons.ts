import { type CurveDay, onsetOf, survivalOf } from './curve.ts';
import { groupsOf } from './groups.ts';
import type { Outcome } from './outcome.ts';
import { type RunLimits, runLineFor, runOf, USUAL_LIMITS } from './runs.ts';
import { type LayingTally, type Rate, tallyOf } from './tally.ts';

type PlainRate = { laying: number; known: number; rate: number | null; low: number | null; high: number | null };
type BothDenominators = { queens: number; open: number; ofInseminated: Rate; ofAliveAtFirstCheck: Rate };

/** The answer of `lessons`, key by key as the contract has it; what is beyond the contract is added, never in its place. */
export type Lessons = {
  by: string;
  overall: PlainRate & BothDenominators;
  groups: (PlainRate & { group: string | null; shrunken: number | null; chanceAlone: number } & BothDenominators)[];
  onset: (CurveDay & { laying: number })[];
  survival: CurveDay[];
  runs: { group: string | null; signalAt: number | null; signals: number[] }[];
  runLine: { acceptable: number; bad: number; failure: number; signal: number };
};

function flat({ known, queens, open, ofInseminated, ofAliveAtFirstCheck }: LayingTally): PlainRate & BothDenominators {
  const { laying, of, rate, low, high } = known;
  return { laying, known: of, rate, low, high, queens, open, ofInseminated, ofAliveAtFirstCheck };
}

/**
 * What the outcomes teach, by one factor: counts with Wilson intervals and both denominators, shrunken rates, onset of laying and
 * survival by day, and the run line of each group. Rates are shares 0-1; days count from insemination.
 * @example lessonsOf(outcomes, { by: 'tip' }).groups[0] // { group: '3', laying: 7, known: 9, rate: 0.777…, … }
 */
export function lessonsOf(outcomes: readonly Outcome[], asked: { by: string; limits?: RunLimits }): Lessons {
  const limits = asked.limits ?? USUAL_LIMITS;
  const line = runLineFor(limits);
  const groups = groupsOf(outcomes, asked.by);
  return {
    by: asked.by,
    overall: flat(tallyOf(outcomes)),
    groups: groups.map(({ group, tally, shrunken, chanceAlone }) => ({ group, ...flat(tally), shrunken, chanceAlone })),
    onset: onsetOf(outcomes),
    survival: survivalOf(outcomes),
    runs: groups.map(({ group, outcomes: members }) => {
      const { signalAt, signals } = runOf(members, line);
      return { group, signalAt, signals };
    }),
    runLine: { ...limits, ...line },
  };
}
