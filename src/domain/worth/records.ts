/** Performance records as columns: who, which level of each fixed effect, and the traits. */
export type Records = {
  readonly count: number;
  /** Queen index whose colony it was. */
  readonly queen: Int32Array;
  /** `count × traits`; NaN where a trait was not recorded. */
  readonly values: Float64Array;
  /** One an effect of the model (the random one first, then the fixed): level of each record, and the levels' names in the order they first occur. */
  readonly factors: readonly { readonly level: Int32Array; readonly names: readonly string[] }[];
};

/** Values this large or larger are no measurement of a colony, whatever the unit; differences between them would be lost in rounding. */
export const TOO_LARGE = 1e15;
