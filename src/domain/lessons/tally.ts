import { wilson } from '#numeric/intervals/wilson.ts';
import { isLoss, type Outcome } from './outcome.ts';

/** "7 of 9" with its rate and Wilson's 95 % interval; null where nothing is known. */
export type Rate = { laying: number; of: number; rate: number | null; low: number | null; high: number | null };

/** Counts of one group of queens, with the two denominators a breeder asks for. */
export type LayingTally = {
  /** All rows of the group. */
  queens: number;
  /** Laying known (yes or no): the denominator of the plain rate. */
  known: Rate;
  /** Of all inseminated whose story is decided: a queen lost before laying was known counts as not laying. */
  ofInseminated: Rate;
  /** Of those still alive at their first check. */
  ofAliveAtFirstCheck: Rate;
  /** Not yet known and not lost, or gone alive before it was known: drawn as open, counted nowhere. */
  open: number;
};

/** A rate from counts; `of` 0 gives nulls. */
export function rateOf(laying: number, of: number): Rate {
  if (of === 0) return { laying, of, rate: null, low: null, high: null };
  return { laying, of, rate: laying / of, ...wilson(laying, of) };
}

/** Alive when somebody first looked: laying, or not lost before or on that day. */
export const aliveAtFirstCheck = ({ checkedOn, lostOn, laying }: Outcome): boolean =>
  laying === true || (checkedOn !== null && (lostOn === null || lostOn > checkedOn));

const decided = (outcome: Outcome): boolean => outcome.laying !== null || isLoss(outcome);

/** The tally of a group of outcomes. A queen lost on the day of her check was not alive at it, unless she was laying. */
export function tallyOf(outcomes: readonly Outcome[]): LayingTally {
  const laying = outcomes.filter((one) => one.laying === true).length;
  const known = outcomes.filter((one) => one.laying !== null);
  const settled = outcomes.filter(decided).length;
  return {
    queens: outcomes.length,
    known: rateOf(laying, known.length),
    ofInseminated: rateOf(laying, settled),
    ofAliveAtFirstCheck: rateOf(laying, known.filter(aliveAtFirstCheck).length),
    open: outcomes.length - settled,
  };
}
