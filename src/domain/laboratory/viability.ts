import { wilson } from '#numeric/intervals/wilson.ts';

/** Live and dead sperm counted under a two-colour stain, and the fraction alive with its Wilson 95 % interval. */
export type Viability = {
  live: number;
  dead: number;
  viability: number | null;
  low: number | null;
  high: number | null;
};

/**
 * The fraction of live sperm, live ÷ (live + dead), 0-1, with Wilson's interval; null throughout when nothing was counted.
 * Throws on counts below 0.
 * @example viability(168, 32) // 0.84, 0.7829 to 0.8842
 */
export function viability(live: number, dead: number): Viability {
  if (!(live >= 0 && dead >= 0)) throw new RangeError(`not counts: ${live}, ${dead}`);
  const all = live + dead;
  if (all === 0) return { live, dead, viability: null, low: null, high: null };
  return { live, dead, viability: live / all, ...wilson(live, all) };
}
