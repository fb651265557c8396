/**
 * A stock as columns: what the pedigree needs to know of queens and gamete pools, in typed arrays, so that a million queens cost
 * no objects and travel to a worker without copying. Made from {@link ./facts.ts} (records) or {@link ./files/read-pedigree.ts} (tables).
 */
import type { Assumption } from './assumption.ts';

/** Stands where no queen, pool or day is known. */
export const NONE = -1;
/** Column value of a day that is not known; known days are `YYYYMMDD` as a number. */
export const NO_DAY = 0;

/** What a source of a pool is: drones of a queen (or of a group of sisters), sperm of another pool, drones of an unrelated population. */
export const FROM_QUEEN = 0;
/** See {@link FROM_QUEEN}. */
export const FROM_POOL = 1;
/** See {@link FROM_QUEEN}. */
export const FROM_OPEN = 2;

/** Effective drones of a queen about whose mating nothing is written (common practice for a free mating flight: about a dozen). */
export const OPEN_MATING_DRONES = 12;
/** Effective drones where a mating names its drone mothers but no number. */
export const DRONES_WHEN_NOT_SAID = 10;

/**
 * The columns: one number a queen (`dam` … `sisters`), one a source (`sourceKind` … `sourceAlike`), one a pool (`oneOf`; `sourceStart` has one
 * more).
 */
export type StockColumns = {
  readonly queens: number;
  /** Queen index of each queen's mother; NONE for a founder. */
  readonly dam: Int32Array;
  /** Pool each queen descends from when it is not the one her dam carries now; NONE = her dam's. */
  readonly fromPool: Int32Array;
  /** Pool each queen carries; NONE = nothing written. */
  readonly carries: Int32Array;
  /** Day she emerged, as the number YYYYMMDD; NO_DAY when not known. */
  readonly born: Int32Array;
  /** How many unrecorded sisters the row stands for: 1 for a queen, more for a group used as drone mothers. */
  readonly sisters: Int32Array;
  readonly pools: number;
  /** Sources of pool p are `sourceStart[p] … sourceStart[p+1]−1` of the columns below. */
  readonly sourceStart: Int32Array;
  readonly sourceKind: Uint8Array;
  /** Queen or pool index; NONE for an open source. */
  readonly sourceRef: Int32Array;
  /** Share of sperm, > 0; the shares of a pool add up to 1. */
  readonly sourceShare: Float64Array;
  /** Effective drones from that source (draws, for a pool); `Infinity` = the whole, homogenised pool. */
  readonly sourceDrones: Float64Array;
  /** For an open source: probability that two of its gametes are alike by descent (0 = unrelated drones). */
  readonly sourceAlike: Float64Array;
  /** 1 where the sources of a pool are alternatives with probabilities, not parts of a mixture. */
  readonly oneOf: Uint8Array;
};

/** How the columns are called by people; ids and codes stay opaque. */
export type StockNames = {
  /** Id of a queen or pool by its index, and back (NONE when unknown). */
  queenId(queen: number): string;
  poolId(pool: number): string;
  queenIndex(id: string): number;
  poolIndex(id: string): number;
  /** What a person calls them: the code of a queen, `semen of Q` or `batch B` for a pool. */
  queenName(queen: number): string;
  poolName(pool: number): string;
};

/** Everything the pedigree knows of a stock. */
export type Stock = {
  readonly columns: StockColumns;
  readonly names: StockNames;
  /** What was taken for granted while the stock was gathered. */
  readonly assumptions: readonly Assumption[];
};

/**
 * Sources of a pool as a half-open range of the source columns.
 * @example sourcesOf(workedPedigree().stock.columns, 2) // [2, 4]
 */
export const sourcesOf = (columns: StockColumns, pool: number): [from: number, to: number] => [
  columns.sourceStart[pool] as number,
  columns.sourceStart[pool + 1] as number,
];
