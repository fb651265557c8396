import { inverseOf, type Square } from '../dense/small-matrix.ts';
import { climb, newtonStep, type Top } from './climb.ts';
import { type EventTime, strataOf, sweep, type Ties, type WatchedTable } from './cox-sweep.ts';
import { dependentColumns, type Features, type Refusal, type Scaled, scaled } from './features.ts';

/** What a fit gives; coefficients and their errors in the units of the features given. */
export type CoxFit = {
  /** Logarithms of hazard ratios, one a column: exp(b) is how many times as often it happens with one unit more. */
  coefficients: Float64Array;
  standardErrors: Float64Array;
  /** `columns × columns`, from the observed information. */
  covariance: Square;
  /** Log partial likelihood at 0 and at the coefficients. */
  logLikelihoodAtZero: number;
  logLikelihood: number;
  /** Rao's score statistic of all coefficients at 0; chi-square with `columns` degrees of freedom when none matters. */
  score: number;
  events: number;
  /** Cases watched at all. */
  cases: number;
  iterations: number;
};

/** The table prepared once: scaled features, and the cases of each stratum. */
export type CoxTable = { table: WatchedTable; features: Scaled; strata: number[][]; ties: Ties };

/**
 * Sums over all event times at coefficients `b` of the scaled features; `hear` is told each of them.
 * @example const table = { time: Float64Array.of(1, 2, 3, 4), happened: Uint8Array.of(1, 1, 1, 1) };
 * atCoefficients(coxTable(table, { values: Float64Array.of(1, 0, 1, 0), columns: 1 }), Float64Array.of(0)).logLikelihood // -Math.log(24)
 */
export function atCoefficients(
  { table, features, strata, ties }: CoxTable,
  b: Float64Array,
  hear?: (one: EventTime) => void,
): EventTime {
  const p = features.columns;
  const weight = Float64Array.from(table.time, (_, i) => {
    let sum = 0;
    for (let k = 0; k < p; k++) sum += (features.values[i * p + k] as number) * (b[k] as number);
    return Math.exp(sum);
  });
  const all: EventTime = {
    time: 0,
    events: 0,
    logLikelihood: 0,
    score: new Float64Array(p),
    information: new Float64Array(p * p),
  };
  for (const cases of strata)
    sweep(table, cases, { values: features.values, columns: p, weight, ties }, (one) => {
      all.events += one.events;
      all.logLikelihood += one.logLikelihood;
      one.score.forEach((value, k) => {
        all.score[k] = (all.score[k] as number) + value;
      });
      one.information.forEach((value, k) => {
        all.information[k] = (all.information[k] as number) + value;
      });
      hear?.(one);
    });
  return all;
}

/** Back from scaled features to the units given. */
function inUnits(
  { b, at, iterations }: Top<EventTime>,
  { features, strata }: CoxTable,
  start: EventTime,
): CoxFit | Refusal {
  const p = features.columns;
  const covariance = inverseOf(at.information, p);
  if (covariance === null) return { refused: 'parted', columns: [...b.keys()] };
  const sd = (k: number) => features.sd[k] as number;
  for (let i = 0; i < p; i++)
    for (let j = 0; j < p; j++) covariance[i * p + j] = (covariance[i * p + j] as number) / (sd(i) * sd(j));
  const first = newtonStep(start) ?? new Float64Array(p);
  return {
    coefficients: b.map((value, k) => value / sd(k)),
    standardErrors: Float64Array.from({ length: p }, (_, k) => Math.sqrt(covariance[k * p + k] as number)),
    covariance,
    logLikelihoodAtZero: start.logLikelihood,
    logLikelihood: at.logLikelihood,
    score: first.reduce((sum, value, k) => sum + value * (start.score[k] as number), 0),
    events: at.events,
    cases: strata.reduce((sum, cases) => sum + cases.length, 0),
    iterations,
  };
}

/**
 * The table of a Cox regression with its features scaled, ready to be fitted or tested.
 * @example coxTable({ time: Float64Array.of(1, 2), happened: Uint8Array.of(1, 0) }, { values: Float64Array.of(1, 0), columns: 1 }) // { strata: [[0, 1]], ties: 'efron' }
 */
export const coxTable = (table: WatchedTable, features: Features, ties: Ties = 'efron'): CoxTable => ({
  table,
  features: scaled(features),
  strata: strataOf(table),
  ties,
});

/**
 * Cox's proportional hazards regression (1972, J R Stat Soc B 34:187): the coefficients that make the partial likelihood largest, by Newton's method.
 * At risk at t are all with from < t <= time of the same stratum (left truncation: Andersen and others 1993, III.3); tied events in Efron's form
 * (1977) or Breslow's (1974). Refused, with the columns it is about: `all-alike` when nothing happened, `dependent` when a column adds nothing,
 * `parted` when a coefficient has no end (a monotone likelihood, Bryson and Johnson 1981, Technometrics 23:381), for example because it happened to
 * nobody of a group. Order, units and added constants do not matter. Time: steps × cases × columns².
 * In the example the partial likelihood of θ = exp(b) is θ²/2(θ + 1)²(θ + 2), largest where θ² = θ + 4.
 * @param table one entry a case; time in any unit
 * @param features `cases × columns`; at least one column
 * @example const table = { time: Float64Array.of(1, 2, 3, 4), happened: Uint8Array.of(1, 1, 1, 1) };
 * coxRegression(table, { values: Float64Array.of(1, 0, 1, 0), columns: 1 }).coefficients // [Math.log((1 + Math.sqrt(17)) / 2)]
 */
export function coxRegression(table: WatchedTable, features: Features, ties: Ties = 'efron'): CoxFit | Refusal {
  const ready = coxTable(table, features, ties);
  const start = atCoefficients(ready, new Float64Array(features.columns));
  if (start.events === 0) return { refused: 'all-alike', columns: [] };
  const dependent = dependentColumns(start.information, features.columns);
  if (dependent.length > 0) return { refused: 'dependent', columns: dependent };
  const top = climb((b) => atCoefficients(ready, b), ready.features.reach);
  return 'refused' in top ? top : inUnits(top, ready, start);
}
