import { betaShapes, type Factor } from '#numeric/chance/factor.ts';
import { betaQuantile } from '#numeric/chance/incomplete-beta.ts';
import { type Day, daysBetween } from '#units/calendar-day.ts';
import type { AgeWindow, BiologyProfile } from '../profile.ts';
import { type DaysSpread, daysSpread } from './days-spread.ts';
import { shareOf } from './doubt.ts';

/**
 * Drones of one mother that came or come from one comb, as far as they have been counted: cells of a comb not laid yet, laid cells, drones that
 * emerged, or drones seen alive on a day. Laid or emerged evenly over the span given. `profile`: their own times, where they are not those of the others.
 */
export type DroneLot = DroneCount & { profile?: BiologyProfile };

type DroneCount =
  | { counted: 'cells' | 'laid'; count: number; laidFrom: Day; laidTo: Day }
  | { counted: 'emerged'; count: number; emergedFrom: Day; emergedTo: Day }
  | { counted: 'alive'; count: number; on: Day; emergedFrom: Day; emergedTo: Day };

/** Whole days from the first to the last of a span, as offsets of `on` (positive = before it), each with its weight. */
function evenly(from: Day, to: Day, on: Day): DaysSpread {
  const first = daysBetween(from, on);
  const last = daysBetween(to, on);
  const weight = 1 / (first - last + 1);
  return Array.from({ length: first - last + 1 }, (_, i) => ({ days: last + i, weight }));
}

/** Ages on the day, in days after emergence (negative: not emerged yet), with their weights. */
function agesOn(lot: DroneLot, on: Day, profile: BiologyProfile): DaysSpread {
  if (lot.counted === 'emerged' || lot.counted === 'alive') return evenly(lot.emergedFrom, lot.emergedTo, on);
  const brood = daysSpread(profile.timings.droneEggToEmergence);
  return evenly(lot.laidFrom, lot.laidTo, on).flatMap(({ days, weight }) =>
    brood.map((one) => ({ days: days - one.days, weight: weight * one.weight })),
  );
}

const SLICES = 24;

/** Equally likely values of the share alive at 14 days. */
function survivalsAtFourteen(profile: BiologyProfile): number[] {
  const share = shareOf(profile.survivals.dronesAtFourteen);
  if (share.kind === 'point') return [share.value];
  const { a, b } = betaShapes(share.mean, share.sd);
  return Array.from({ length: SLICES }, (_, i) => betaQuantile((i + 0.5) / SLICES, a, b));
}

/**
 * Share of a lot alive on the day and of an age in the window, with its doubt. Daily loss is constant: the share alive at age a is s^(a/14), s being
 * the share alive at 14 days. Drones counted alive later have only the days since then to survive.
 */
export function ripeShare(lot: DroneLot, on: Day, ages: AgeWindow, profile: BiologyProfile): Factor {
  const spread = agesOn(lot, on, profile).filter(({ days }) => days >= ages.from && days <= ages.to);
  const since = lot.counted === 'alive' ? Math.max(0, daysBetween(lot.on, on)) : null;
  const survivals = survivalsAtFourteen(profile);
  const values = survivals.map((atFourteen) =>
    spread.reduce((sum, { days, weight }) => sum + weight * atFourteen ** ((since ?? days) / 14), 0),
  );
  return { kind: 'list', values, weights: values.map(() => 1) };
}
