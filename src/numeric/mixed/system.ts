/**
 * Equations of a linear mixed model whose random part is a linear recursion, kept in the form they arise in: never assembled.
 *
 * Unknowns are `effects` numbers a node (two for each trait: a first and a second effect) and one number a trait for each level of the further
 * fixed factors; the levels of the leading factor are absorbed exactly. The solution minimises
 *
 * `Σ_i (1/own_i)(x_i − Σ w x_older)' G⁻¹ (x_i − Σ w x_older) + Σ_r (y_r − Xb_r − f_r)' W_r (y_r − Xb_r − f_r)`,
 *
 * with `f_r` the sum of two features of the record: a feature is, for trait t, `Σ (first · x[2t] + second · x[2t+1])` over a few nodes.
 * Many records share a feature, so a product costs one pass over the features, one over the records and one over the recursion.
 */
import type { Square } from '../dense/small-matrix.ts';
import type { Recursion } from '../recursion/recursion.ts';

/** Sums over nodes that records refer to, in compressed form: feature f has the terms `start[f] … start[f+1]−1` of the three columns. */
export type Features = {
  readonly count: number;
  readonly start: Int32Array;
  readonly node: Int32Array;
  readonly first: Float64Array;
  readonly second: Float64Array;
};

/** Records, sorted by the class of the leading factor. */
export type Observations = {
  readonly count: number;
  /** `count × traits`; anything where a trait was not recorded (its weight is 0). */
  readonly y: Float64Array;
  /** `count × traits × traits`: inverse of the residual covariance of the recorded traits, 0 elsewhere. */
  readonly weight: Float64Array;
  /** Two features a record, −1 = none. */
  readonly left: Int32Array;
  readonly right: Int32Array;
  /** Records of class c are `classStart[c] … classStart[c+1]−1`. */
  readonly classStart: Int32Array;
  /** `count × factors`: level of each further factor, numbered through; −1 = the level that is left out. */
  readonly levels: Int32Array;
};

/** The whole system; arrays of blocks lie one block after another, each row after row. */
export type MixedSystem = {
  readonly traits: number;
  /** Twice the traits. */
  readonly effects: number;
  /** Own variances above 0. */
  readonly recursion: Recursion;
  /** Inverse of the covariance of the effects, `effects × effects`. */
  readonly inverseG: Square;
  readonly features: Features;
  readonly observations: Observations;
  /** Further factors beside the leading one, and how many levels they have together. */
  readonly factors: number;
  readonly levelCount: number;
  /**
   * Added to the weight of each class of the leading factor: the inverse of its variance (`traits × traits`) when it is random; `null` when fixed.
   */
  readonly classPrior: Square | null;
};

/**
 * Length of the vector of unknowns: effects of the nodes, then traits of the levels.
 * @example unknownsOf(workedSystem) // 4
 */
export const unknownsOf = (system: MixedSystem): number =>
  system.recursion.size * system.effects + system.levelCount * system.traits;

/**
 * How many classes the leading factor has.
 * @example classesOf(workedSystem) // 1
 */
export const classesOf = (system: MixedSystem): number => system.observations.classStart.length - 1;
