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
  /**
   * One effect taken as random instead of fixed, for yard-years of few colonies: written as an entry of `fixed`, with the covariance of its levels (t × t).
   * The fixed effects then stand beside it; with none of them there is a general mean.
   */
  random?: { effect: readonly string[]; covariance: Float64Array };
  /** Genetic groups by columns of the queens file: of founders, and of open drones; variance of a group's mean in units of G. */
  groups?: { founders?: string; open?: string; variance: number };
};

/**
 * Effects in the order records hold them: the random one, if there is one, then the fixed. Empty for a model of neither, which has a general mean.
 * @example effectsOf(workedPrepared().model) // [['yard', 'year']]
 */
export const effectsOf = (model: Model): readonly (readonly string[])[] =>
  model.random === undefined ? model.fixed : [model.random.effect, ...model.fixed];

/**
 * How a fixed effect is written: its columns joined by colons.
 * @example fixedName(['yard', 'year']) // 'yard:year'
 */
export const fixedName = (entry: readonly string[]): string => entry.join(':');
