import type { Day } from '#units/calendar-day.ts';
import type { DroneSource, SingleSource } from './drone-source.ts';

/** Drone mothers as somebody states them; a missing share takes an equal part of what is left. `drones` effective, in all. */
export type StatedSources = {
  sources: readonly { of: DroneSource; share: number | null }[];
  drones: number | null;
};

/**
 * One insemination as recorded. What was given is told by the ledger lines it drew (`draws`: two for a dose from two tubes),
 * or, where no ledger was kept, by what is `stated`. `semen` is µl of semen, only where no ledger tells it.
 */
export type InseminationFact = {
  id: string;
  queen: string;
  /** The day, if known. */
  day: Day | null;
  /** False for one that was not done. */
  done: boolean;
  draws: readonly string[];
  stated: StatedSources | null;
  semen: number | null;
  /** The breeder says it left nothing behind. */
  leftNothing: boolean;
};

/**
 * The drone mothers that stood at a mating place in one season. `queens`: how many queens a source stands for (1, or all the sisters of a group);
 * every one of them is as likely to be the mother of a drone a queen meets. No sources = nobody wrote down who stood there.
 */
export type MatingSeason = {
  id: string;
  place: string;
  year: number;
  sources: readonly { of: SingleSource; queens: number }[];
};

/**
 * A mating flight, known or suspected; `share` is the part of her sperm the breeder gives it, `drones` effective drones; no season, or one nobody
 * stood in = open.
 */
export type NaturalMatingFact = {
  queen: string;
  from: Day | null;
  to: Day | null;
  suspected: boolean;
  share: number | null;
  drones: number | null;
  season: MatingSeason | null;
};

/** What a seller says a queen carries: not our own record, and said so wherever it is used. */
export type SellersWord = StatedSources & { queen: string; day: Day | null };

/** All that is written about the matings of one queen. */
export type MatingFacts = {
  queen: string;
  inseminations: readonly InseminationFact[];
  naturalMatings: readonly NaturalMatingFact[];
  sellersWords: readonly SellersWord[];
};

/** Effective drones of a free mating flight nobody counted (contracts.md; natural mating number about a dozen, common practice). */
export const OPEN_MATING_DRONES = 12;
/** Effective drones where drone mothers are named but no number (contracts.md). */
export const DRONES_WHEN_NOT_SAID = 10;
