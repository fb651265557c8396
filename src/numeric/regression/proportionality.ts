import { chiSquareAbove } from '../chance/chi-square.ts';
import { inverseOf } from '../dense/small-matrix.ts';
import { atCoefficients, type CoxFit, type CoxTable } from './cox.ts';
import type { EventTime } from './cox-sweep.ts';

/** A test that a hazard ratio stays the same over time; a small p says that it does not. */
export type Proportionality = { statistic: number; freedom: number; p: number };

/** Sums over event times weighted by the clock, c = clock(t) less its mean over events: Σ c·score, Σ c·V, Σ c²·V, ΣV. */
type Clocked = { score: Float64Array; once: Float64Array; twice: Float64Array; plain: Float64Array };

function clockedSums(times: readonly EventTime[], clock: (time: number) => number): Clocked {
  const p = times[0]?.score.length ?? 0;
  const events = times.reduce((sum, one) => sum + one.events, 0);
  const middle = times.reduce((sum, one) => sum + one.events * clock(one.time), 0) / events;
  const square = () => new Float64Array(p * p);
  const sums = { score: new Float64Array(p), once: square(), twice: square(), plain: square() };
  for (const one of times) {
    const c = clock(one.time) - middle;
    one.score.forEach((value, k) => {
      sums.score[k] = (sums.score[k] as number) + c * value;
    });
    one.information.forEach((value, k) => {
      sums.plain[k] = (sums.plain[k] as number) + value;
      sums.once[k] = (sums.once[k] as number) + c * value;
      sums.twice[k] = (sums.twice[k] as number) + c * c * value;
    });
  }
  return sums;
}

/** The score statistic of adding x·clock(t) for the columns `tested`. */
function statisticOf({ score, once, twice, plain }: Clocked, tested: readonly number[]): number | null {
  const p = score.length;
  const size = p + tested.length;
  const whole = new Float64Array(size * size);
  for (let i = 0; i < p; i++) for (let j = 0; j < p; j++) whole[i * size + j] = plain[i * p + j] as number;
  tested.forEach((k, a) => {
    for (let i = 0; i < p; i++) {
      whole[i * size + p + a] = once[i * p + k] as number;
      whole[(p + a) * size + i] = once[k * p + i] as number;
    }
    tested.forEach((l, b) => {
      whole[(p + a) * size + p + b] = twice[k * p + l] as number;
    });
  });
  const inverse = inverseOf(whole, size);
  if (inverse === null) return null;
  let sum = 0;
  tested.forEach((k, a) => {
    tested.forEach((l, b) => {
      sum += (score[k] as number) * (inverse[(p + a) * size + p + b] as number) * (score[l] as number);
    });
  });
  return sum;
}

const tested = (statistic: number | null, freedom: number): Proportionality | null =>
  statistic === null ? null : { statistic, freedom, p: chiSquareAbove(statistic, freedom) };

/**
 * Whether hazard ratios stay the same over time: the score test of adding feature × clock(time) to a Cox regression, the test on Schoenfeld's
 * residuals (1982, Biometrika 69:239) of Grambsch and Therneau (1994, Biometrika 81:515) with the variance at each time in place of its average, for
 * each column and for all together. Null where nothing can be tested (all events at one time).
 * @param clock any rising function of time; the time itself when left out
 * @example const table = { time: Float64Array.of(1, 2, 3, 4, 5), happened: new Uint8Array(5).fill(1) };
 * const features = { values: Float64Array.of(1, 0, 0, 1, 0), columns: 1 };
 * proportionality(coxTable(table, features), coxRegression(table, features)).each // [{ freedom: 1, p: 0.8580 }]; as R's survival (cox.zph, identity)
 */
export function proportionality(
  table: CoxTable,
  fit: CoxFit,
  clock: (time: number) => number = (time) => time,
): { each: (Proportionality | null)[]; all: Proportionality | null } {
  const times: EventTime[] = [];
  const b = fit.coefficients.map((value, k) => value * (table.features.sd[k] as number));
  atCoefficients(table, b, (one) => times.push(one));
  const sums = clockedSums(times, clock);
  const columns = [...b.keys()];
  return {
    each: columns.map((k) => tested(statisticOf(sums, [k]), 1)),
    all: tested(statisticOf(sums, columns), columns.length),
  };
}
