import type { Square } from '../dense/small-matrix.ts';

/** What is known of each case: `rows × columns` numbers, row after row; element (i, k) is `values[i * columns + k]`. */
export type Features = { values: Float64Array; columns: number };

/** Features moved to mean 0 and stretched to standard deviation 1, so that neither units nor a large constant added to a column matter. */
export type Scaled = {
  values: Float64Array;
  columns: number;
  mean: Float64Array;
  /** Standard deviation of each column in its own unit; 0 where all its values are alike. */
  sd: Float64Array;
  /** Largest less smallest value of each column, in standard deviations. */
  reach: Float64Array;
};

/** Why a regression is refused: a closed list. */
export type RefusalCode =
  /** Nothing happened, or (rates) all succeeded or all failed. */
  | 'all-alike'
  /** A column tells nothing the columns before it do not tell, or is the same for all who count. */
  | 'dependent'
  /** A column parts those it happened to from the others wholly: its coefficient has no end. */
  | 'parted'
  /** The levels of a random factor are each all successes or all failures: their spread has no end. */
  | 'levels-parted'
  /** No more trials than coefficients. */
  | 'too-few'
  /** A number given, or one worked out on the way to the top, is not finite. */
  | 'not-finite';

/** A refusal with the columns it is about, counted from 0. */
export type Refusal = { refused: RefusalCode; columns: number[] };

function scaleColumn({ values, columns }: Features, k: number, into: Scaled): void {
  const rows = values.length / columns;
  let mean = 0;
  for (let i = 0; i < rows; i++) mean += (values[i * columns + k] as number) / rows;
  let squares = 0;
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < rows; i++) {
    const value = values[i * columns + k] as number;
    squares += (value - mean) ** 2;
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  const sd = high > low ? Math.sqrt(squares / rows) : 0;
  into.mean[k] = mean;
  into.sd[k] = sd;
  into.reach[k] = sd === 0 ? 0 : (high - low) / sd;
  for (let i = 0; i < rows; i++) {
    into.values[i * columns + k] = sd === 0 ? 0 : ((values[i * columns + k] as number) - mean) / sd;
  }
}

/**
 * The features scaled column by column.
 * @example scaled({ values: Float64Array.of(1, 3), columns: 1 }) // { values: [-1, 1], mean: [2], sd: [1], reach: [2] }
 */
export function scaled(features: Features): Scaled {
  const { values, columns } = features;
  const column = () => new Float64Array(columns);
  const into = { values: new Float64Array(values.length), columns, mean: column(), sd: column(), reach: column() };
  for (let k = 0; k < columns; k++) scaleColumn(features, k, into);
  return into;
}

/**
 * The columns of an information matrix that add nothing to those before them: its Cholesky pivots below 1e-9 of its diagonal. Empty when the
 * matrix is safely positive definite.
 * @example dependentColumns(Float64Array.of(1, 1, 1, 1), 2) // [1]
 */
export function dependentColumns(information: Square, size: number): number[] {
  const l = information.slice();
  const found: number[] = [];
  const largest = Math.max(0, ...Array.from({ length: size }, (_, j) => l[j * size + j] as number));
  for (let j = 0; j < size; j++) {
    const whole = information[j * size + j] as number;
    let pivot = whole;
    for (let k = 0; k < j; k++) pivot -= (l[j * size + k] as number) ** 2;
    const spent = !(pivot > 1e-9 * whole && whole > 1e-12 * largest);
    if (spent) found.push(j);
    const root = spent ? 0 : Math.sqrt(pivot);
    l[j * size + j] = root;
    for (let i = j + 1; i < size; i++) {
      let sum = information[i * size + j] as number;
      for (let k = 0; k < j; k++) sum -= (l[i * size + k] as number) * (l[j * size + k] as number);
      l[i * size + j] = spent ? 0 : sum / root;
    }
  }
  return found;
}
