import type { SeasonFrame } from './season-frame.ts';
import { type PlannedSeason, queensOf, visitsOf, worthOf } from './season-plan.ts';

/** A plan with how good it is: no plan can be worth more than `bound`, so it is within `gap` of the best. */
export type SeasonAnswer = {
  plan: PlannedSeason;
  worth: number;
  bound: number;
  /** (bound − worth) / bound; 0 is proven best. */
  gap: number;
  queens: number[];
  visits: number;
};

/** Measures a plan against a proven bound. */
export function answerOf(plan: PlannedSeason, frame: SeasonFrame, bound: number): SeasonAnswer {
  const worth = worthOf(plan, frame);
  const least = Math.max(bound, worth);
  return {
    plan,
    worth,
    bound: least,
    gap: least <= 1e-9 ? 0 : Math.max(0, (least - worth) / least),
    queens: queensOf(plan, frame),
    visits: visitsOf(plan, frame).length,
  };
}

/** The bound that needs no solver: every queen wanted, on one visit a cross-less day. */
export const plainBound = ({ wish }: SeasonFrame): number =>
  wish.crosses.reduce((sum, { queens, worth }) => sum + queens * (worth ?? 1), 0);
