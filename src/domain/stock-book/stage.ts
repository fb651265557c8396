import { type Day, daysBetween } from '#units/calendar-day.ts';

/** How far a queen has come: what the stock book says in one word. */
export type Stage = 'virgin' | 'inseminated' | 'laying' | 'drone-layer' | 'not-known';

/** What is written that tells how far she is. */
export type StageFacts = {
  emerged: Day | null;
  /** An insemination that was done, a mating flight, or a seller's word is written. */
  mated: boolean;
  /** Capped worker brood was seen, or she has daughters in the book. */
  hasLaid: boolean;
  isDroneLayer: boolean;
};

/**
 * Days after emergence in which a queen of whose mating nothing is written counts as a virgin. Later she has mated or turned
 * into a drone layer, and the book only does not say so (unmated queens begin to lay after about 40 days: Mackensen 1947,
 * J. Econ. Entomol. 40).
 */
export const VIRGIN_DAYS = 40;

/** How far a queen had come on a day. Without any word on her mating an older queen is `not-known`, never a virgin. */
export function stageOf({ emerged, mated, hasLaid, isDroneLayer }: StageFacts, on: Day): Stage {
  if (isDroneLayer) return 'drone-layer';
  if (hasLaid) return 'laying';
  if (mated) return 'inseminated';
  return emerged !== null && daysBetween(emerged, on) <= VIRGIN_DAYS ? 'virgin' : 'not-known';
}
