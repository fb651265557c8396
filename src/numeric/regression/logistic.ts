import { climb, type Place, type Top } from './climb.ts';
import { dependentColumns, type Refusal, type Scaled } from './features.ts';

/** Successes out of trials of each row (0 <= successes <= trials; trials 1 for a single outcome). */
export type RateTable = { successes: Float64Array; trials: Float64Array };

/**
 * 1 / (1 + exp(−x)).
 * @example logistic(0) // 0.5
 */
export const logistic = (x: number): number => (x >= 0 ? 1 / (1 + Math.exp(-x)) : Math.exp(x) / (1 + Math.exp(x)));

/**
 * ln(1 + exp(x)) without overflow.
 * @example softPlus(0) // Math.log(2)
 */
export const softPlus = (x: number): number => (x > 0 ? x + Math.log1p(Math.exp(-x)) : Math.log1p(Math.exp(x)));

/**
 * The linear predictor of each row: an intercept b_0, then the features, of which there may be none.
 * @example predictor(scaled({ values: Float64Array.of(1, 3), columns: 1 }), 2, Float64Array.of(10, 1)) // [9, 11]
 */
export function predictor({ values, columns }: Scaled, rows: number, b: Float64Array): Float64Array {
  const out = new Float64Array(rows);
  for (let i = 0; i < rows; i++) {
    let sum = b[0] as number;
    for (let k = 0; k < columns; k++) sum += (values[i * columns + k] as number) * (b[k + 1] as number);
    out[i] = sum;
  }
  return out;
}

/** Likelihood, score and information of a plain logistic regression; binomial coefficients are left out. */
function placeAt(table: RateTable, features: Scaled, b: Float64Array): Place {
  const size = features.columns + 1;
  const rows = table.trials.length;
  const at: Place = { logLikelihood: 0, score: new Float64Array(size), information: new Float64Array(size * size) };
  const x = new Float64Array(size);
  x[0] = 1;
  const eta = predictor(features, rows, b);
  for (let i = 0; i < rows; i++) {
    const [y, m] = [table.successes[i] as number, table.trials[i] as number];
    for (let k = 1; k < size; k++) x[k] = features.values[i * features.columns + k - 1] as number;
    const share = logistic(eta[i] as number);
    at.logLikelihood += y * (eta[i] as number) - m * softPlus(eta[i] as number);
    const weight = m * share * (1 - share);
    for (let j = 0; j < size; j++) {
      at.score[j] = (at.score[j] as number) + (y - m * share) * (x[j] as number);
      for (let k = 0; k < size; k++) {
        at.information[j * size + k] =
          (at.information[j * size + k] as number) + weight * (x[j] as number) * (x[k] as number);
      }
    }
  }
  return at;
}

/**
 * Plain logistic regression on scaled features (b_0 is the intercept), or why there is none: `all-alike`, `too-few` trials (no more than coefficients),
 * `dependent` columns, `parted` (separation: Albert and Anderson 1984, Biometrika 71:1). Columns are counted from 0 and leave out the intercept.
 * @example const table = { successes: Float64Array.of(1, 5), trials: Float64Array.of(4, 4) };
 * logisticTop(table, scaled({ values: new Float64Array(0), columns: 0 })).b // [Math.log(3)]; 6 of 8
 */
export function logisticTop(table: RateTable, features: Scaled): Top<Place> | Refusal {
  const { successes, trials } = table;
  const done = successes.reduce((sum, y) => sum + y, 0);
  const tried = trials.reduce((sum, m) => sum + m, 0);
  if (done === 0 || done === tried) return { refused: 'all-alike', columns: [] };
  if (tried <= features.columns + 1) return { refused: 'too-few', columns: [] };
  const own = (columns: readonly number[]) => columns.filter((k) => k > 0).map((k) => k - 1);
  const start = placeAt(table, features, new Float64Array(features.columns + 1));
  const dependent = own(dependentColumns(start.information, features.columns + 1));
  if (dependent.length > 0) return { refused: 'dependent', columns: dependent };
  const top = climb((b) => placeAt(table, features, b), Float64Array.of(1, ...features.reach));
  return 'refused' in top ? { ...top, columns: own(top.columns) } : top;
}
