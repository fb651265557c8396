/**
 * A linear model to be maximised: columns with bounds and worth, some of them whole numbers, and rows between limits. Plain arrays, so that it can be
 * handed to a worker and to any solver.
 */
export type LinearModel = {
  worth: Float64Array;
  low: Float64Array;
  high: Float64Array;
  /** 1 where a column takes whole numbers only. */
  whole: Int32Array;
  rowLow: Float64Array;
  rowHigh: Float64Array;
  /** Row i has the terms starts[i] … starts[i + 1] − 1: columns and coefficients. */
  starts: Int32Array;
  columns: Int32Array;
  coefficients: Float64Array;
};

export type Term = readonly [column: number, coefficient: number];

/** Collects columns and rows, then gives the model. */
export class ModelBuilder {
  readonly #worth: number[] = [];
  readonly #low: number[] = [];
  readonly #high: number[] = [];
  readonly #whole: number[] = [];
  readonly #rowLow: number[] = [];
  readonly #rowHigh: number[] = [];
  readonly #starts: number[] = [0];
  readonly #columns: number[] = [];
  readonly #coefficients: number[] = [];

  /** A new column; answers its number. Bounds must be finite, so that a bound can always be proven. */
  column({
    low = 0,
    high,
    worth = 0,
    whole = false,
  }: {
    low?: number;
    high: number;
    worth?: number;
    whole?: boolean;
  }): number {
    if (!Number.isFinite(low) || !Number.isFinite(high)) throw new RangeError('a column without finite bounds');
    this.#low.push(low);
    this.#high.push(high);
    this.#worth.push(worth);
    this.#whole.push(whole ? 1 : 0);
    return this.#worth.length - 1;
  }

  /** Changes the worth of a column. */
  addWorth(column: number, worth: number): void {
    this.#worth[column] = (this.#worth[column] ?? 0) + worth;
  }

  #row(low: number, high: number, terms: readonly Term[]): void {
    for (const [column, coefficient] of terms) {
      this.#columns.push(column);
      this.#coefficients.push(coefficient);
    }
    this.#starts.push(this.#columns.length);
    this.#rowLow.push(low);
    this.#rowHigh.push(high);
  }

  atMost = (limit: number, terms: readonly Term[]): void => this.#row(Number.NEGATIVE_INFINITY, limit, terms);
  atLeast = (limit: number, terms: readonly Term[]): void => this.#row(limit, Number.POSITIVE_INFINITY, terms);
  exactly = (value: number, terms: readonly Term[]): void => this.#row(value, value, terms);

  model(): LinearModel {
    return {
      worth: Float64Array.from(this.#worth),
      low: Float64Array.from(this.#low),
      high: Float64Array.from(this.#high),
      whole: Int32Array.from(this.#whole),
      rowLow: Float64Array.from(this.#rowLow),
      rowHigh: Float64Array.from(this.#rowHigh),
      starts: Int32Array.from(this.#starts),
      columns: Int32Array.from(this.#columns),
      coefficients: Float64Array.from(this.#coefficients),
    };
  }
}

/** The worth of column values. */
export const worthOfValues = ({ worth }: LinearModel, values: Float64Array): number =>
  values.reduce((sum, value, j) => sum + value * (worth[j] ?? 0), 0);

/** By how much values break a row or a bound at most; 0 when they keep them all. */
export function brokenBy(model: LinearModel, values: Float64Array): number {
  let most = 0;
  values.forEach((value, j) => {
    most = Math.max(most, (model.low[j] ?? 0) - value, value - (model.high[j] ?? 0));
  });
  for (let i = 0; i < model.rowLow.length; i++) {
    let sum = 0;
    for (let p = model.starts[i] ?? 0; p < (model.starts[i + 1] ?? 0); p++)
      sum += (model.coefficients[p] ?? 0) * (values[model.columns[p] ?? 0] ?? 0);
    most = Math.max(most, (model.rowLow[i] ?? 0) - sum, sum - (model.rowHigh[i] ?? 0));
  }
  return most;
}

/**
 * A worth no solution can exceed, proven from any row prices y whatever made them (Lagrange): Σ max over each row's limits of y·s, plus Σ max over each
 * column's bounds of (worth − y'A)·x. The better the prices, the nearer the bound; wrong prices only loosen it.
 */
export function provenBound(model: LinearModel, prices: Float64Array): number {
  const reduced = Float64Array.from(model.worth);
  let bound = 0;
  for (let i = 0; i < model.rowLow.length; i++) {
    const price = usable(prices[i] ?? 0, model.rowLow[i] ?? 0, model.rowHigh[i] ?? 0);
    if (price === 0) continue;
    bound += price * ((price > 0 ? model.rowHigh[i] : model.rowLow[i]) ?? 0);
    for (let p = model.starts[i] ?? 0; p < (model.starts[i + 1] ?? 0); p++) {
      const j = model.columns[p] ?? 0;
      reduced[j] = (reduced[j] ?? 0) - price * (model.coefficients[p] ?? 0);
    }
  }
  return reduced.reduce((sum, gain, j) => sum + gain * ((gain > 0 ? model.high[j] : model.low[j]) ?? 0), bound);
}

/** A price on a side that has no limit would prove nothing; it counts as 0. */
const usable = (price: number, low: number, high: number): number =>
  Number.isFinite(price > 0 ? high : low) ? price : 0;
