import { figure, ranged } from './figure.ts';
import type { BiologyProfile } from './profile.ts';
import { standardText } from './standard-text.ts';

const PRACTICE = 'common practice';

/** Early in the year, or with comb still to be drawn: the nest takes a week to lay the drone comb and raises fewer drones. */
export const earlySpring: BiologyProfile = {
  ...standardText,
  name: 'early-spring',
  timings: { ...standardText.timings, combLead: figure(7, PRACTICE, PRACTICE) },
  survivals: {
    ...standardText.survivals,
    cellsLaid: ranged({ value: 0.3, low: 0.1, high: 0.6 }, PRACTICE, PRACTICE),
    accepted: ranged({ value: 0.7, low: 0.5, high: 0.9 }, PRACTICE, PRACTICE),
  },
};
