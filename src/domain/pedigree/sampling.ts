/** Variance that a limited number of drones adds to a pool, beyond what its drone mothers predict; for a share of 1. */

/**
 * Variance of the mean gamete of `drones` effective drones (> 0) of a population in which two gametes are alike by descent with probability `alike`:
 * ½f + (½ − ½f)/n.
 * @example openVariance(12) // 1 / 24
 */
export const openVariance = (drones: number, alike = 0): number => 0.5 * alike + (0.5 - 0.5 * alike) / drones;

/** A drone mother, or a group of `sisters`: inbreeding of one queen, relationship of the row with itself. */
export type DroneMother = { inbreeding: number; self: number; sisters: number };

/**
 * Drones of one mother: each adds ¼(1−F) (half her Mendelian sampling), the mean of n of them ¼(1−F)/n. A group gives the same number
 * from each sister; fewer drones than sisters come from as many different sisters, which adds ¼(1+F−ā)(1/n − 1/J), ā the
 * relationship of two sisters (so that a single drone is one drone, variance ½, whoever laid it). `drones` are effective drones, > 0.
 * @example droneVariance({ inbreeding: 0, self: 1, sisters: 1 }, 5) // 0.05
 */
export function droneVariance(mother: DroneMother, drones: number): number {
  const { inbreeding, self, sisters } = mother;
  const within = (0.25 * (1 - inbreeding)) / drones;
  if (sisters === 1 || drones >= sisters) return within;
  const spread = ((1 + inbreeding - self) * sisters) / (sisters - 1);
  return within + 0.25 * spread * (1 / drones - 1 / sisters);
}

/**
 * Variance of `draws` (> 0) effective draws from a pool with that self relationship (0-½): (½ − A_pp)/n; 0 for the whole pool (`Infinity`).
 * @example drawVariance(0.1, 4) // 0.1
 */
export const drawVariance = (poolSelf: number, draws: number): number => (0.5 - poolSelf) / draws;
