import { addDays, type Day, daysBetween } from '#units/calendar-day.ts';
import type { DroneLot } from '../chances/drone-lot.ts';
import { chanceOfSemen, semenSupply } from '../chances/semen-supply.ts';
import { countBack, earliestInsemination } from '../count-back.ts';
import type { Wish } from '../wish.ts';

/** What can be done about a day that is too near. */
export type Instead = {
  /** Day by which the first useful drone eggs should have been laid, and how many days ago that was (0 when it is still to come). */
  eggsDue: Day;
  daysLate: number;
  /** First day both sexes can still be raised for, beginning today. */
  earliest: Day;
  /** First day queens can still be raised for, beginning today: possible with drones that exist. */
  earliestQueens: Day;
  /** Mothers whose drones already on the way can give the semen on the day wished, best first, with the chance. */
  mothers: { mother: string; chance: number }[];
};

/**
 * "Drone eggs should have been laid 12 days ago; the earliest day is 3 July, or these mature drones exist": what a day too near comes down to. `microlitres`
 * is what all queens of the wish need; lots are the drones known of each mother.
 */
export function whatInstead(asked: {
  wish: Wish;
  today: Day;
  microlitres: number;
  lots: readonly { mother: string; lots: readonly DroneLot[] }[];
}): Instead {
  const { wish, today, microlitres } = asked;
  const { profile } = wish;
  const eggs = countBack(wish).find(({ key }) => key === 'drone-eggs');
  const eggsDue = eggs?.to ?? wish.inseminate;
  const queenSide = profile.timings.starterLead.value + profile.timings.graftToEmergence.value;
  return {
    eggsDue,
    daysLate: Math.max(0, daysBetween(eggsDue, today)),
    earliest: earliestInsemination(today, wish),
    earliestQueens: addDays(today, queenSide + (wish.queenAge ?? profile.queens.hard.from)),
    mothers: asked.lots
      .map(({ mother, lots }) => ({
        mother,
        chance: chanceOfSemen(microlitres, semenSupply({ lots, on: wish.inseminate, profile })),
      }))
      .filter(({ chance }) => chance > 0.01)
      .sort((a, b) => b.chance - a.chance),
  };
}
