/** A value's range, `low` <= `high`. */
export type Interval = { low: number; high: number };

/** The standard normal quantile of 0.975: two-sided 95 %. */
export const Z95 = 1.959964;

/**
 * Throws a RangeError unless 0 <= successes <= trials and trials >= 1; parts of a case are allowed.
 * @example checkCounts(3, 2) // throws RangeError
 */
export function checkCounts(successes: number, trials: number): void {
  const fine = trials >= 1 && successes >= 0 && successes <= trials;
  if (!fine) throw new RangeError(`not a count out of a count: ${successes} of ${trials}`);
}
