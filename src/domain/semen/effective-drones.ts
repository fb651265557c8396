/**
 * Coefficient of variation of semen per drone assumed where the drones were only counted: about 0.6, from the open data of
 * Straub et al. 2016 (Proc. R. Soc. B 283:20160506; sperm per drone 2.12 M, SD 1.33 in 145 untreated drones).
 */
export const GUESSED_VARIATION = 0.6;

/** Counted drones ÷ this = effective drones, as a guess: 1 + CV². */
export const DRONES_PER_EFFECTIVE = 1 + GUESSED_VARIATION ** 2;

/** Semen of one drone in µl where it was not read: about 1 (common practice; 1.09 in Rhodes et al. 2011, Apidologie 42:29). */
export const GUESSED_MICROLITRES_PER_DRONE = 1;

/**
 * How many drones of equal volume would make daughters share a father as often as these do: (Σv)² / Σv².
 * Kish's effective number; genetics of the gamete pool need this instead of the count. 0 when there is no semen.
 * @param volumes µl of each drone, ≥ 0, any unit
 * @example effectiveDrones([1, 1, 1, 1]) // 4
 */
export function effectiveDrones(volumes: readonly number[]): number {
  const sum = volumes.reduce((total, volume) => total + volume, 0);
  const squares = volumes.reduce((total, volume) => total + volume * volume, 0);
  return squares > 0 ? (sum * sum) / squares : 0;
}

/** Effective drones guessed from a count alone: count ÷ 1.36, never below 1 (0 for none). */
export function guessedEffectiveDrones(count: number): number {
  return count > 0 ? Math.max(1, count / DRONES_PER_EFFECTIVE) : 0;
}
