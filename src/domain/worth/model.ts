/** How a breeding value is worked out: traits, fixed effects, and the variances taken as true. */
export type Model = {
  /** Names of the trait columns, in the order of G and R. */
  traits: readonly string[];
  /** Fixed effects; each is one column or an interaction of several (`['yard', 'year']`). The first stands for the mean. */
  fixed: readonly (readonly string[])[];
  /**
   * Genetic covariance, 2t × 2t, row after row: worker effect of trait 1, queen effect of trait 1, worker effect of trait 2, …
   * In squares of the traits' units, on the scale of a queen's breeding value.
   */
  G: Float64Array;
  /** Residual covariance, t × t. */
  R: Float64Array;
};

/** How a fixed effect is written: `yard:year`. */
export const fixedName = (entry: readonly string[]): string => entry.join(':');
