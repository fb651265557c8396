import { addDays, type Day, daysBetween } from '#units/calendar-day.ts';
import type { BiologyProfile } from '../profile.ts';
import { crossOfPart } from './cross-part.ts';
import type { ProposedUse, SeasonProposal } from './season-proposal.ts';
import type { SeasonWish } from './season-wish.ts';

/** One insemination day of one cross, with the ages its queens and drones have then. */
export type DayToTake = {
  cross: string;
  on: Day;
  queens: number;
  queen_age: number;
  drone_age_from: number;
  drone_age_to: number;
};

/** A proposal as it is taken: crosses by their own names, not by their parts. */
export type PlanToTake = {
  days: DayToTake[];
  bars: { dam: string; day: Day; larvae: number; uses: ProposedUse[] }[];
  combs: { mother: string; day: Day; combs: number; uses: ProposedUse[] }[];
};

const whole = (uses: readonly ProposedUse[]): ProposedUse[] =>
  uses.map((use) => ({ ...use, cross: crossOfPart(use.cross) }));

type Use = Pick<ProposedUse, 'cross' | 'on'>;
const serves = (use: Use) => (one: ProposedUse) => one.cross === use.cross && one.on === use.on;
const amountFor = (uses: readonly ProposedUse[], use: Use) =>
  uses.filter(serves(use)).reduce((sum, { amount }) => sum + amount, 0);

/** The one that gives most to a use. */
function mainFor<T extends { uses: readonly ProposedUse[] }>(things: readonly T[], use: Use): T | undefined {
  const serving = things.filter(({ uses }) => uses.some(serves(use)));
  return serving.sort((a, b) => amountFor(b.uses, use) - amountFor(a.uses, use))[0];
}

function queenAge(bars: PlanToTake['bars'], use: Use, { timings, usual }: BiologyProfile): number {
  const bar = mainFor(bars, use);
  return bar === undefined ? usual.queenAge : daysBetween(bar.day, use.on) - timings.graftToEmergence.value;
}

/** Ages of the drones of the main comb on the day, within what can be used at all. */
function droneAges(combs: PlanToTake['combs'], use: Use, profile: BiologyProfile): { from: number; to: number } {
  const { timings, usual, drones } = profile;
  const comb = mainFor(combs, use);
  if (comb === undefined) return usual.droneAge;
  const firstOut = addDays(comb.day, timings.combLead.value + timings.droneEggToEmergence.value);
  const to = Math.min(drones.hard.to, Math.max(drones.hard.from, daysBetween(firstOut, use.on)));
  return { from: Math.max(drones.hard.from, to - (usual.droneAge.to - usual.droneAge.from)), to };
}

/** The profile of each cross of a wish, by its own name. */
const profilesOf = ({ crosses, profile }: Pick<SeasonWish, 'crosses' | 'profile'>) => {
  const own = new Map(crosses.map((one) => [crossOfPart(one.cross), one.profile ?? profile]));
  return (cross: string): BiologyProfile => own.get(cross) ?? profile;
};

/** What is taken of a proposal: each cross on its days with the ages its main bar and comb give, bars and combs with what of them is whose. */
export function planToTake(proposal: SeasonProposal, wish: Pick<SeasonWish, 'crosses' | 'profile'>): PlanToTake {
  const profileOf = profilesOf(wish);
  const bars = proposal.bars.map(({ dam, day, larvae, uses }) => ({ dam, day, larvae, uses: whole(uses) }));
  const combs = proposal.combs.map(({ mother, day, combs: count, uses }) => ({
    mother,
    day,
    combs: count,
    uses: whole(uses),
  }));
  const queens = new Map<string, Use & { queens: number }>();
  for (const { on, crosses } of proposal.days)
    for (const { cross: part, queens: more } of crosses) {
      const cross = crossOfPart(part);
      const known = queens.get(`${cross} ${on}`)?.queens ?? 0;
      queens.set(`${cross} ${on}`, { cross, on, queens: known + more });
    }
  const days = [...queens.values()].map((use) => {
    const profile = profileOf(use.cross);
    const { from, to } = droneAges(combs, use, profile);
    return { ...use, queen_age: queenAge(bars, use, profile), drone_age_from: from, drone_age_to: to };
  });
  return { days, bars, combs };
}
