/** Correlations out of estimated covariance matrices, with standard errors by the delta method. */
import { inverseOf, type Square } from '#numeric/dense/small-matrix.ts';
import { type Parameter, parametersOf } from './forms.ts';

/** In the places of G (2t × 2t) and of R (t × t): correlations, −1 to 1, or their standard errors; null where there is none to tell. */
export type Correlations = { G: (number | null)[][]; R: (number | null)[][] };

/** Correlations of effects and of residuals, and how sure they are. */
export type Correlated = Correlations & { standardErrors: Correlations };

const sizeOf = (of: 'G' | 'R', traits: number): number => (of === 'G' ? 2 * traits : traits);

/**
 * Every correlation `r = g_ij / √(g_ii g_jj)` of G and of R (squares of the traits' units; diagonals above 0), with the standard error the delta
 * method gives it: `Var(r) = d'Vd`, V the inverse of the average information of (g_ij, g_ii, g_jj) and
 * d = (1/√(g_ii g_jj), −r/(2g_ii), −r/(2g_jj)) (Pearson and Filon 1898, Phil Trans A 191:229; Lynch and Walsh 1998, app. 1). It holds for many
 * records and away from ±1; near an edge the profile of the likelihood says more. On the diagonal r is 1 and its error null; errors are null where the
 * information cannot be inverted or none is given.
 * @param information between {@link parametersOf} the traits, row by row; left out where nothing was maximised
 * @example correlationsOf({ G: Float64Array.of(4, 2, 2, 4), R: Float64Array.of(1) }, 1).G[0] // [1, 0.5]
 */
export function correlationsOf(
  model: { G: Square; R: Square },
  traits: number,
  information?: Float64Array,
): Correlated {
  const parameters = parametersOf(traits);
  const covariance = information === undefined ? null : inverseOf(information, parameters.length);
  const values = { G: blank(2 * traits), R: blank(traits) };
  const standardErrors = { G: blank(2 * traits), R: blank(traits) };
  for (const { of, row, column } of parameters) {
    const a = model[of];
    const size = sizeOf(of, traits);
    const at = (i: number, j: number) => a[i * size + j] as number;
    const root = Math.sqrt(at(row, row) * at(column, column));
    const r = row === column ? 1 : at(row, column) / root;
    put(values[of], row, column, Number.isFinite(r) ? r : null);
    if (row === column || covariance === null || !Number.isFinite(r)) continue;
    const slope: Slope[] = [
      { of, row, column, by: 1 / root },
      { of, row, column: row, by: -r / (2 * at(row, row)) },
      { of, row: column, column, by: -r / (2 * at(column, column)) },
    ];
    put(standardErrors[of], row, column, errorOf(slope, parameters, covariance));
  }
  return { ...values, standardErrors };
}

/** How much a number moves with one parameter. */
type Slope = Parameter & { by: number };

/** √(d'Vd); null where that is not above 0. */
function errorOf(slope: readonly Slope[], parameters: readonly Parameter[], covariance: Square): number | null {
  const n = parameters.length;
  const places = slope.map(({ of, row, column }) =>
    parameters.findIndex((one) => one.of === of && one.row === row && one.column === column),
  );
  let variance = 0;
  for (const [i, one] of slope.entries()) {
    for (const [j, other] of slope.entries())
      variance += one.by * other.by * (covariance[(places[i] as number) * n + (places[j] as number)] as number);
  }
  return variance > 0 ? Math.sqrt(variance) : null;
}

/** A square of nulls. */
const blank = (size: number): (number | null)[][] =>
  Array.from({ length: size }, () => Array<number | null>(size).fill(null));

function put(matrix: (number | null)[][], row: number, column: number, value: number | null): void {
  (matrix[row] as (number | null)[])[column] = value;
  (matrix[column] as (number | null)[])[row] = value;
}
