import { figure, ranged } from './figure.ts';
import type { BiologyProfile } from './profile.ts';
import { standardText } from './standard-text.ts';

const PRACTICE = 'common practice';

/**
 * What practitioners plan with, no source: drones kept in until day 16, 10-15 drones caught a queen of which about half
 * give 1 µl, 5-8 µl a queen, queens of 6-12 days, two to three days in a nursing cage, drone comb in three days ahead.
 * Development itself is biology and stays as in the standard text.
 */
export const commonPractice: BiologyProfile = {
  name: 'common-practice',
  timings: {
    ...standardText.timings,
    combLead: ranged({ value: 3, low: 3, high: 7 }, PRACTICE, PRACTICE),
  },
  survivals: {
    ...standardText.survivals,
    yielding: ranged({ value: 0.5, low: 0.4, high: 0.6 }, PRACTICE, 'common practice: about every second drone'),
  },
  yields: {
    ...standardText.yields,
    perDrone: figure(1, PRACTICE, PRACTICE),
    dose: ranged({ value: 8, low: 5, high: 8 }, PRACTICE, PRACTICE),
  },
  queens: { hard: { from: 5, to: 14 }, preferred: { from: 6, to: 12 }, source: PRACTICE },
  drones: { hard: { from: 12, to: 28 }, preferred: { from: 16, to: 21 }, source: PRACTICE },
  usual: { queenAge: 8, droneAge: { from: 16, to: 21 }, holdDays: 2 },
};
