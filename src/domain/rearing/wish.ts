import type { Day } from '#units/calendar-day.ts';
import { type Problem, refuse } from '#units/problem.ts';
import type { AgeWindow, BiologyProfile } from './profile.ts';

/** What a breeder asks of one insemination day; everything but day, queens and profile may be left to the profile. */
export type Wish = {
  inseminate: Day;
  /** Queens to be inseminated, 1 or more. */
  queens: number;
  profile: BiologyProfile;
  /** Days after emergence on insemination day. */
  queenAge?: number;
  /** Youngest and oldest drones wanted, days after emergence on insemination day. */
  droneAge?: AgeWindow;
  /** One dose, or two of which the second is given two days later. */
  doses?: 1 | 2;
  /** Days in the nursing cage after the last dose. */
  holdDays?: number;
  /** A separate carbon dioxide treatment the day before; as a rule with one dose, and not with two. */
  firstCo2?: boolean;
  /** The day eggs were first seen, once they are: later checks count from it. */
  eggsSeen?: Day;
};

export type WishRefusal =
  | 'no-queens'
  | 'not-whole-queens'
  | 'queen-age-impossible'
  | 'drone-age-impossible'
  | 'drone-age-backwards'
  | 'doses-one-or-two'
  | 'hold-days-impossible'
  | 'eggs-before-insemination';

/** Ages and stays are whole days; beyond a year nothing in this trade is planned in days. */
const isDays = (days: number, least: number) => Number.isInteger(days) && days >= least && days <= 366;

function queenRefusals({ queens, queenAge }: Wish): Problem<WishRefusal>[] {
  const found: Problem<WishRefusal>[] = [];
  if (queens < 1 || Number.isNaN(queens)) found.push(refuse('queens', 'no-queens', { found: queens }));
  else if (!Number.isInteger(queens)) found.push(refuse('queens', 'not-whole-queens', { found: queens }));
  if (queenAge !== undefined && !isDays(queenAge, 1))
    found.push(refuse('queenAge', 'queen-age-impossible', { found: queenAge }));
  return found;
}

function droneRefusals({ droneAge }: Wish): Problem<WishRefusal>[] {
  if (droneAge === undefined) return [];
  const { from, to } = droneAge;
  if (!isDays(from, 1) || !isDays(to, 1)) return [refuse('droneAge', 'drone-age-impossible', { from, to })];
  return from > to ? [refuse('droneAge', 'drone-age-backwards', { from, to })] : [];
}

function benchRefusals({ doses, holdDays, eggsSeen, inseminate }: Wish): Problem<WishRefusal>[] {
  const found: Problem<WishRefusal>[] = [];
  if (doses !== undefined && doses !== 1 && doses !== 2)
    found.push(refuse('doses', 'doses-one-or-two', { found: doses }));
  if (holdDays !== undefined && !isDays(holdDays, 0))
    found.push(refuse('holdDays', 'hold-days-impossible', { found: holdDays }));
  if (eggsSeen !== undefined && eggsSeen < inseminate)
    found.push(refuse('eggsSeen', 'eggs-before-insemination', { eggs: eggsSeen, inseminated: inseminate }));
  return found;
}

/** Everything that makes a wish impossible; empty when it can be counted back. */
export function refusalsOf(wish: Wish): Problem<WishRefusal>[] {
  return [...queenRefusals(wish), ...droneRefusals(wish), ...benchRefusals(wish)];
}
