import { expect, it } from 'vitest';
import { day } from '#units/calendar-day.ts';
import { standardText } from '../standard-text.ts';
import { planToTake } from './plan-to-take.ts';
import type { SeasonProposal } from './season-proposal.ts';

const on = day('2027-06-12');
const use = (cross: string, amount: number) => ({ cross, on, amount });
const proposal = {
  days: [
    {
      on,
      crosses: [
        { cross: 'B', queens: 6 },
        { cross: 'B/2', queens: 4 },
      ],
    },
  ],
  bars: [
    { dam: 'A1', day: day('2027-05-23'), larvae: 14, uses: [use('B', 6)] },
    { dam: 'A2', day: day('2027-05-25'), larvae: 10, uses: [use('B/2', 4)] },
  ],
  combs: [{ mother: 'M', day: day('2027-04-26'), combs: 1, uses: [use('B', 0.6), use('B/2', 0.4)] }],
} as unknown as SeasonProposal;

it('puts the parts of a cross together again, with the ages of its main bar and comb', () => {
  const taken = planToTake(proposal, { crosses: [], profile: standardText });
  // Grafted 23 May, out 4 June (12 days): 8 days old. Comb in 26 April, first eggs two days later, out 22 May: 21 to 14 days.
  expect(taken.days).toEqual([{ cross: 'B', on, queens: 10, queen_age: 8, drone_age_from: 14, drone_age_to: 21 }]);
  expect(taken.combs[0]?.uses.map(({ cross }) => cross)).toEqual(['B', 'B']);
});
