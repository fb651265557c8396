import { luckBand } from '#numeric/chance/luck-band.ts';
import type { Rate } from './tally.ts';

/** Groups of fewer queens are drawn hollow and never ranked. */
export const FEW_QUEENS = 5;

/** One group in the funnel: where it stands, and the band that luck alone explains at its number of queens. */
export type FunnelPoint = {
  group: string | null;
  laying: number;
  of: number;
  rate: number;
  /** Band of luck, shares 0-1. */
  low: number;
  high: number;
  hollow: boolean;
  outside: 'above' | 'below' | null;
};

/** Success against number of queens. `band` are the edges at each number of queens from 1 to the largest group. */
export type Funnel = { usual: number; points: FunnelPoint[]; band: { of: number; low: number; high: number }[] };

function pointOf(group: string | null, { laying, of }: Rate, usual: number): FunnelPoint {
  const { low, high } = luckBand(of, usual);
  const rate = laying / of;
  const hollow = of < FEW_QUEENS;
  const outside = hollow ? null : rate > high ? 'above' : rate < low ? 'below' : null;
  return { group, laying, of, rate, low, high, hollow, outside };
}

/**
 * The funnel of some groups: the band holds what luck alone explains 95 times in 100 for a group of that many queens at the
 * usual rate, by exact binomial limits (Spiegelhalter 2005, Statist. Med. 24:1185). Groups nothing is known of have no point.
 * `null` when nothing is known at all.
 * @param usual the rate of all queens together, 0-1
 */
export function funnelOf(
  groups: readonly { group: string | null; known: Rate }[],
  usual: number | null,
): Funnel | null {
  const known = groups.filter(({ known: { of } }) => of > 0);
  if (usual === null || known.length === 0) return null;
  const largest = Math.max(...known.map(({ known: { of } }) => of));
  return {
    usual,
    points: known.map(({ group, known: rate }) => pointOf(group, rate, usual)),
    band: Array.from({ length: largest }, (_, n) => ({ of: n + 1, ...luckBand(n + 1, usual) })),
  };
}
