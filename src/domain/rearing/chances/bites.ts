import type { Day } from '#units/calendar-day.ts';
import type { Figure } from '../figure.ts';
import type { BiologyProfile, Survivals } from '../profile.ts';
import { type DroneLot, ripeShare } from './drone-lot.ts';
import { laidCellsNeeded } from './drones-to-raise.ts';
import { larvaeNeeded, queenShares } from './queen-losses.ts';

/** One loss, and how many fewer would have to be raised if nothing were lost there (larvae, or laid cells). */
export type Bite = { figure: `survivals.${keyof Survivals}` | 'yields.leftBehind'; saves: number };

const QUEEN_LOSSES = ['accepted', 'emergedQueens', 'readyQueens'] as const;
const DRONE_LOSSES = ['emergedDrones', 'dronesAtFourteen', 'caughtDrones', 'yielding'] as const;

const certain = (figure: Figure, value: number): Figure => ({ ...figure, value, low: value, high: value });

/** A profile in which one step loses nothing and is not in doubt. */
const without = (profile: BiologyProfile, key: keyof Survivals): BiologyProfile => ({
  ...profile,
  survivals: { ...profile.survivals, [key]: certain(profile.survivals[key], 1) },
});

const sorted = (bites: Bite[]): Bite[] => bites.filter(({ saves }) => saves > 0).sort((a, b) => b.saves - a.saves);

type QueenLosses = { queens: number; daysBefore: number; larvae: number; profile: BiologyProfile; sure: number };

/** Which loss of the queen side bites: larvae saved if nothing were lost at it, most first. Its doubt counts as well as its size. */
export function queenBites({ queens, daysBefore, larvae, profile, sure }: QueenLosses): Bite[] {
  return sorted(
    QUEEN_LOSSES.map((key) => {
      const better = queenShares(without(profile, key), { daysBefore, ages: profile.queens.hard });
      return { figure: `survivals.${key}` as const, saves: larvae - larvaeNeeded(queens, better, sure) };
    }),
  );
}

type DroneLosses = { microlitres: number; lot: DroneLot; on: Day; profile: BiologyProfile; sure: number };

function laidCells({ microlitres, lot, on, profile, sure }: DroneLosses): number | null {
  const ripe = ripeShare(lot, on, profile.drones.hard, profile);
  return laidCellsNeeded({ microlitres, ripe, profile, sure });
}

/** Which loss of the drone side bites: laid cells saved if nothing were lost at it, most first. */
export function droneBites(losses: DroneLosses): Bite[] {
  const now = laidCells(losses);
  if (now === null) return [];
  const { profile } = losses;
  const { leftBehind } = profile.yields;
  const noTip = { ...profile, yields: { ...profile.yields, leftBehind: certain(leftBehind, 0) } };
  const bites = DRONE_LOSSES.map((key) => ({
    figure: `survivals.${key}` as const,
    saves: now - (laidCells({ ...losses, profile: without(profile, key) }) ?? now),
  }));
  const tip = { figure: 'yields.leftBehind' as const, saves: now - (laidCells({ ...losses, profile: noTip }) ?? now) };
  return sorted([...bites, tip]);
}
