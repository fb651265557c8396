import { logGamma } from '../chance/log-gamma.ts';
import { inverseOf, type Square } from '../dense/small-matrix.ts';
import { type Features, type Refusal, type Scaled, scaled } from './features.ts';
import { laplaceAt, type MixedPlace, type MixedTable } from './laplace-slope.ts';
import { logisticTop, type RateTable } from './logistic.ts';
import { beginnings, type RandomFactor } from './random-levels.ts';
import { uphillStep } from './uphill-step.ts';

/** The levels of one random factor, drawn towards their mean 0, on the log-odds scale. */
export type FittedLevels = {
  /** Standard deviation of the levels; 0 where the data show no spread. */
  spread: number;
  /** One a level: how much higher or lower its log odds are. */
  values: Float64Array;
  /** One a level: the conditional standard deviation of its value, coefficients and spreads taken as known. */
  errors: Float64Array;
};

export type MixedFit = {
  intercept: number;
  /** Log odds ratios, one a column, in the units given. */
  coefficients: Float64Array;
  /** Of intercept, then coefficients. */
  standardErrors: Float64Array;
  /** `(columns + 1)²`, intercept first; the doubt about the spreads is in it. */
  covariance: Square;
  /** In the order of the factors given. */
  factors: FittedLevels[];
  /** Expected share of each row, levels included, 0-1. */
  fitted: Float64Array;
  /** Laplace log-likelihood with binomial coefficients. */
  logLikelihood: number;
  iterations: number;
};

const STEPS = 100;
/** Standard deviations above this on the log-odds scale mean levels that are all or none. */
const ENDLESS = 12;
/** Standard deviations below this are none: the likelihood is flat there. */
const NONE = 1e-3;

/** Curvature (negative second derivatives) by central differences of the exact slope, good to about 1e-7 of itself. */
function curvatureAt(mixed: MixedTable, place: Float64Array, u: Float64Array): Square {
  const size = place.length;
  const out = new Float64Array(size * size);
  const h = 1e-4;
  for (let k = 0; k < size; k++) {
    const [up, down] = [h, -h].map((by) => {
      const moved = place.slice();
      moved[k] = (moved[k] as number) + by;
      return laplaceAt(mixed, moved, u).slope;
    }) as [Float64Array, Float64Array];
    for (let j = 0; j < size; j++) {
      const second = ((down[j] as number) - (up[j] as number)) / (2 * h);
      out[j * size + k] = (out[j * size + k] as number) + second / 2;
      out[k * size + j] = (out[k * size + j] as number) + second / 2;
    }
  }
  return out;
}

const largest = (values: Float64Array) => values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);

/** Goes `step`, halved until it leads up; null when it leads up no more. */
function goUp(mixed: MixedTable, place: Float64Array, at: MixedPlace, step: Float64Array) {
  let size = Math.min(1, 2 / Math.max(2, largest(step)));
  for (let halved = 0; halved < 40; halved++, size /= 2) {
    const next = place.map((value, k) => value + size * (step[k] as number));
    const there = laplaceAt(mixed, next, at.levels.u);
    if (there.logLikelihood > at.logLikelihood) return { next, there };
  }
  return null;
}

type Climbed = { place: Float64Array; at: MixedPlace; curvature: Square; iterations: number };

/** Leaves a place where a spread of 0 is the bottom of a valley. */
function leaveValley(place: Float64Array, curvature: Square, fixed: number): boolean {
  let left = false;
  for (let k = fixed; k < place.length; k++)
    if (Math.abs(place[k] as number) < NONE && (curvature[k * place.length + k] as number) < 0) {
      place[k] = 0.3;
      left = true;
    }
  return left;
}

function climbLaplace(mixed: MixedTable, from: Float64Array): Climbed | Refusal {
  const fixed = mixed.features.columns + 1;
  let place = from;
  const levels = mixed.factors.reduce((sum, { levels: n }) => sum + n, 0);
  let at = laplaceAt(mixed, place, new Float64Array(levels));
  for (let iterations = 1; ; iterations++) {
    const curvature = curvatureAt(mixed, place, at.levels.u);
    const uphill = uphillStep(curvature, at.slope);
    if (uphill === null) return { refused: 'not-finite', columns: [] };
    const { step, isHill } = uphill;
    const parted = largest(place.slice(fixed)) > ENDLESS || iterations > STEPS;
    if (parted) return { refused: 'levels-parted', columns: [] };
    const gone = largest(step) < 1e-8 ? null : goUp(mixed, place, at, step);
    if (gone !== null) {
      [place, at] = [gone.next, gone.there];
      continue;
    }
    if (isHill || !leaveValley(place, curvature, fixed)) return { place, at, curvature, iterations };
    at = laplaceAt(mixed, place, at.levels.u);
  }
}

/** Factors as the climb wants them: those still in, the one with most levels first. */
function inOrder(factors: readonly RandomFactor[], isIn: readonly boolean[]): number[] {
  const kept = [...factors.keys()].filter((k) => isIn[k]);
  return kept.sort((a, b) => (factors[b]?.levels ?? 0) - (factors[a]?.levels ?? 0));
}

/** From scaled features back to the units given, the intercept where every feature is 0. */
function unscale(b: Float64Array, covariance: Square, features: Scaled) {
  const size = features.columns + 1;
  const turn = new Float64Array(size * size);
  turn[0] = 1;
  for (let k = 1; k < size; k++) {
    const sd = features.sd[k - 1] as number;
    turn[k] = -(features.mean[k - 1] as number) / sd;
    turn[k * size + k] = 1 / sd;
  }
  const cell = (i: number, j: number) => turn[i * size + j] as number;
  const units = Float64Array.from({ length: size }, (_, i) => b.reduce((sum, value, j) => sum + cell(i, j) * value, 0));
  const turned = new Float64Array(size * size);
  for (let i = 0; i < size; i++)
    for (let j = 0; j < size; j++)
      for (let k = 0; k < size; k++)
        for (let l = 0; l < size; l++)
          turned[i * size + j] =
            (turned[i * size + j] as number) + cell(i, k) * cell(j, l) * (covariance[k * size + l] as number);
  return { units, turned };
}

/** ln of the binomial coefficients of the rows. */
const choices = ({ successes, trials }: RateTable): number =>
  trials.reduce((sum, m, i) => {
    const y = successes[i] as number;
    return m === 1 ? sum : sum + logGamma(m + 1) - logGamma(y + 1) - logGamma(m - y + 1);
  }, 0);

/** Levels in the order given; factors whose spread is none have nothing to tell. */
function levelsOf(factors: readonly RandomFactor[], order: readonly number[], { place, at }: Climbed, fixed: number) {
  const start = beginnings(order.map((k) => factors[k] as RandomFactor));
  return factors.map(({ levels }, k): FittedLevels => {
    const n = order.indexOf(k);
    if (n < 0) return { spread: 0, values: new Float64Array(levels), errors: new Float64Array(levels) };
    const sigma = place[fixed + n] as number;
    const from = start[n] as number;
    return {
      spread: Math.abs(sigma),
      values: Float64Array.from({ length: levels }, (_, j) => sigma * (at.levels.u[from + j] as number)),
      errors: Float64Array.from(
        { length: levels },
        (_, j) => Math.abs(sigma) * Math.sqrt(at.levels.blocks.inverseAt(from + j, from + j)),
      ),
    };
  });
}

/** The top, with factors that turn out to have no spread taken out one after another. */
function topOf(table: RateTable, features: Scaled, factors: readonly RandomFactor[], from: Float64Array) {
  const isIn = factors.map(() => true);
  const fixed = features.columns + 1;
  for (;;) {
    const order = inOrder(factors, isIn);
    const mixed: MixedTable = { table, features, factors: order.map((k) => factors[k] as RandomFactor) };
    const climbed = climbLaplace(mixed, Float64Array.of(...from, ...order.map(() => 1)));
    if ('refused' in climbed) return climbed;
    const none = order.filter((_, n) => Math.abs(climbed.place[fixed + n] as number) < NONE);
    if (none.length === 0) return { order, climbed };
    for (const k of none) isIn[k] = false;
  }
}

/** Refused where a number given is none: with the columns it stands in, without any where it stands in the successes or trials. */
function notFinite({ successes, trials }: RateTable, { values, columns }: Features): Refusal | null {
  const bad = new Set<number>();
  values.forEach((value, at) => {
    if (!Number.isFinite(value)) bad.add(at % columns);
  });
  if (bad.size > 0) return { refused: 'not-finite', columns: [...bad].sort((a, b) => a - b) };
  return [successes, trials].every((one) => one.every(Number.isFinite)) ? null : { refused: 'not-finite', columns: [] };
}

/**
 * Logistic regression with random levels of any number of crossed or nested factors: logit share = intercept + x'b + Σ level of each factor, levels
 * normal with a standard deviation of their own. Largest Laplace likelihood (Breslow and Clayton 1993, J Am Stat Assoc 88:9), as R's lme4 gives with
 * one quadrature point; standard errors from the curvature in coefficients and spreads together. Refused, with the columns it is about: `not-finite`
 * numbers, `all-alike`, `too-few` trials, `dependent` columns, `parted` (separation), `levels-parted`. Order of rows, names of levels, units and added
 * constants do not matter. Time: about 10 steps × 2(columns + factors) × rows × columns; see LevelBlocks for many levels. Laplace draws the spread low where
 * levels have few trials each. The figures of the example are those of R's lme4 (glmer, one quadrature point).
 * @param features `rows × columns`; `columns` 0 for an intercept alone
 * @param factors may be none
 * @example const table = { successes: Float64Array.of(1, 3, 9, 5, 8, 2), trials: new Float64Array(6).fill(10) };
 * const fit = logisticMixed(table, { values: new Float64Array(0), columns: 0 }, [{ levels: 6, of: Int32Array.of(0, 1, 2, 3, 4, 5) }]);
 * [fit.intercept, fit.factors[0].spread] // [-0.159, 1.314]
 */
export function logisticMixed(
  table: RateTable,
  features: Features,
  factors: readonly RandomFactor[],
): MixedFit | Refusal {
  const bad = notFinite(table, features);
  if (bad !== null) return bad;
  const ready = scaled(features);
  const plain = logisticTop(table, ready);
  if ('refused' in plain) return plain;
  const found = topOf(table, ready, factors, plain.b);
  if ('refused' in found) return found;
  const { order, climbed } = found;
  const size = climbed.place.length;
  const inverse = inverseOf(climbed.curvature, size);
  if (inverse === null) return { refused: 'levels-parted', columns: [] };
  const fixed = features.columns + 1;
  const block = new Float64Array(fixed * fixed);
  for (let i = 0; i < fixed; i++)
    for (let j = 0; j < fixed; j++) block[i * fixed + j] = inverse[i * size + j] as number;
  const { units, turned } = unscale(climbed.place.slice(0, fixed), block, ready);
  return {
    intercept: units[0] as number,
    coefficients: units.slice(1),
    standardErrors: Float64Array.from({ length: fixed }, (_, k) => Math.sqrt(turned[k * fixed + k] as number)),
    covariance: turned,
    factors: levelsOf(factors, order, climbed, fixed),
    fitted: climbed.at.levels.share,
    logLikelihood: climbed.at.logLikelihood + choices(table),
    iterations: climbed.iterations,
  };
}
