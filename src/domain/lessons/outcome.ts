import type { Day } from '#units/calendar-day.ts';

export const FATES = ['lost', 'superseded', 'drone-layer', 'sold', 'given', 'culled', 'sampled'] as const;
export type Fate = (typeof FATES)[number];
export const BROODS = ['worker', 'drone', 'none', 'unknown'] as const;

/** What became of one inseminated queen, as far as it is known; `null` is not known. */
export type Outcome = {
  queen: string;
  inseminated: Day | null;
  /** Capped worker brood seen: yes, no (a drone layer is no), or not yet known. */
  laying: boolean | null;
  layingOn: Day | null;
  checkedOn: Day | null;
  lostOn: Day | null;
  fate: Fate | null;
  /** Everything that may have made the difference, by column name (operator, batch, tip, storage_days, …); empty text is not known. */
  factors: Readonly<Record<string, string>>;
};

/** A queen who left the stock alive, or was killed to be looked at, was watched until then and not lost. */
const NOT_A_LOSS: ReadonlySet<Fate | null> = new Set<Fate | null>(['sold', 'given', 'sampled']);

/** Whether the day she was last in the stock was a loss: death, supersedure, drone layer, culled or cause unknown. */
export const isLoss = (outcome: Outcome): boolean => outcome.lostOn !== null && !NOT_A_LOSS.has(outcome.fate);
