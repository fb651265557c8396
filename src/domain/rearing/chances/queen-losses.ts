import { type CountChances, countAtLeast, countQuantile, meanCount } from '#numeric/chance/count-chances.ts';
import { known, leastThroughSteps, type Share, stepThrough, throughSteps } from '#numeric/chance/count-steps.ts';
import type { AgeWindow, BiologyProfile } from '../profile.ts';
import { daysSpread } from './days-spread.ts';
import { shareOf } from './doubt.ts';

/** The steps a queen is lost on, in order. */
export const QUEEN_STEPS = ['accepted', 'emerged', 'of-age', 'ready', 'laying'] as const;
export type QueenStep = (typeof QUEEN_STEPS)[number];

/** A graft seen from insemination day: how many days before it the larvae are moved, and which ages will do. */
export type GraftTiming = { daysBefore: number; ages: AgeWindow };

/** Share of queens whose age on the day falls into the window, from the spread of emergence. */
export function shareOfAge({ daysBefore, ages }: GraftTiming, profile: BiologyProfile): number {
  return daysSpread(profile.timings.graftToEmergence)
    .filter(({ days }) => daysBefore - days >= ages.from && daysBefore - days <= ages.to)
    .reduce((sum, { weight }) => sum + weight, 0);
}

/** The share of each step with its doubt, from larva to laying. */
export function queenShares(profile: BiologyProfile, timing: GraftTiming): Record<QueenStep, Share> {
  const { accepted, emergedQueens, readyQueens, layingQueens } = profile.survivals;
  return {
    accepted: shareOf(accepted),
    emerged: shareOf(emergedQueens),
    'of-age': { kind: 'point', value: shareOfAge(timing, profile) },
    ready: shareOf(readyQueens),
    laying: shareOf(layingQueens),
  };
}

/** What is known of a graft: so many larvae, or so many left after a step that has been counted. */
export type GraftCount = { left: number; after: 'grafted' | QueenStep };

const stepsAfter = (after: GraftCount['after'], until: QueenStep): readonly QueenStep[] =>
  QUEEN_STEPS.slice(after === 'grafted' ? 0 : QUEEN_STEPS.indexOf(after) + 1, QUEEN_STEPS.indexOf(until) + 1);

/**
 * Chances of how many queens of one graft reach a step (`ready` on insemination day unless told), from what is known now. Each step's share is
 * drawn once for the whole bar, so sisters share their luck: exact beta-binomial steps.
 */
export function queensThrough(
  count: GraftCount,
  shares: Readonly<Record<QueenStep, Share>>,
  until: QueenStep = 'ready',
): CountChances {
  return stepsAfter(count.after, until).reduce(
    (chances, step) => stepThrough(chances, shares[step]),
    known(count.left),
  );
}

/** One stair: how many are expected on it, and the middle four fifths of what it may be. */
export type Stair = { step: 'grafted' | QueenStep; mean: number; low: number; high: number };

/** The losses stairs of a graft, from what is known now down to laying. */
export function lossesStairs(count: GraftCount, shares: Readonly<Record<QueenStep, Share>>): Stair[] {
  const stairs: Stair[] = [{ step: count.after, mean: count.left, low: count.left, high: count.left }];
  let chances = known(count.left);
  for (const step of stepsAfter(count.after, 'laying')) {
    chances = stepThrough(chances, shares[step]);
    stairs.push({
      step,
      mean: meanCount(chances),
      low: countQuantile(0.1, chances),
      high: countQuantile(0.9, chances),
    });
  }
  return stairs;
}

/** More larvae than this on one graft is no plan. */
const MOST_LARVAE = 400;

/**
 * The least number of larvae so that at least `queens` are ready with chance `sure` (0.9 unless told); Infinity when no graft of that timing can
 * give them. Exact.
 */
export function larvaeNeeded(queens: number, shares: Readonly<Record<QueenStep, Share>>, sure = 0.9): number {
  const steps = stepsAfter('grafted', 'ready').map((step) => shares[step]);
  return leastThroughSteps({ k: queens, sure, most: MOST_LARVAE }, steps);
}

/** The chance that `larvae` give at least `queens` ready ones. */
export function chanceOfQueens(queens: number, larvae: number, shares: Readonly<Record<QueenStep, Share>>): number {
  return countAtLeast(
    queens,
    throughSteps(
      larvae,
      stepsAfter('grafted', 'ready').map((step) => shares[step]),
    ),
  );
}
