/**
 * A run line over single outcomes: each failure adds `failure`, each success takes 1 away, never below 0; it signals at `signal`. Both whole, >= 1.
 * The Bernoulli cumulative sum of Reynolds and Stoumbos 1999 (J. Qual. Technol. 31:87) with whole-number steps.
 */
export type RunLine = { failure: number; signal: number };

/**
 * The step for a failure that tells rate `bad` from rate `acceptable` of failures fastest: the whole number nearest to
 * ln(bad/acceptable) / −ln((1 − bad)/(1 − acceptable)). Throws unless 0 < acceptable < bad < 1.
 * @example failureStep(0.1, 0.3) // 4
 */
export function failureStep(acceptable: number, bad: number): number {
  if (!(0 < acceptable && acceptable < bad && bad < 1)) throw new RangeError(`run line of ${acceptable} and ${bad}`);
  const ratio = Math.log(bad / acceptable) / -Math.log((1 - bad) / (1 - acceptable));
  return Math.max(1, Math.round(ratio));
}

/**
 * The height of the line after each outcome, and the places (counted from 1) where it signals; it starts at 0 again after each.
 * @example walkRun([true, true, false, true], { failure: 4, signal: 8 }) // { heights: [4, 8, 0, 4], signals: [2] }
 */
export function walkRun(
  failed: readonly boolean[],
  { failure, signal }: RunLine,
): { heights: number[]; signals: number[] } {
  const heights: number[] = [];
  const signals: number[] = [];
  let height = 0;
  failed.forEach((bad, i) => {
    height = Math.max(0, height + (bad ? failure : -1));
    heights.push(height);
    if (height < signal) return;
    signals.push(i + 1);
    height = 0;
  });
  return { heights, signals };
}

/** The equations of {@link averageRun}, one row a height: the coefficients of E(0) … E(signal − 1), then the right-hand side 1. */
function equations(rate: number, { failure, signal }: RunLine): Float64Array[] {
  return Array.from({ length: signal }, (_, h) => {
    const row = new Float64Array(signal + 1);
    const add = (column: number, value: number) => {
      if (column < signal) row[column] = (row[column] ?? 0) + value;
    };
    add(h, 1);
    add(h + failure, -rate);
    add(Math.max(0, h - 1), rate - 1);
    row[signal] = 1;
    return row;
  });
}

/** The first unknown of a diagonally dominant system, eliminating from the last row up (no pivots needed). */
function firstUnknown(rows: Float64Array[]): number {
  for (let k = rows.length - 1; k >= 0; k--) {
    const pivot = rows[k];
    if (pivot === undefined) continue;
    for (const row of rows.slice(0, k)) {
      const factor = (row[k] ?? 0) / (pivot[k] ?? 1);
      if (factor !== 0) for (let j = 0; j < row.length; j++) row[j] = (row[j] ?? 0) - factor * (pivot[j] ?? 0);
    }
  }
  const [first] = rows;
  return (first?.at(-1) ?? 0) / (first?.[0] ?? 1);
}

/**
 * The mean number of outcomes until a signal when failures come at `rate` (0-1), exactly, from the Markov chain of heights:
 * E(h) = 1 + rate·E(h + failure) + (1 − rate)·E(max(0, h − 1)), with E = 0 from the signal on. Infinity at rate 0.
 * Time: the cube of `signal`.
 * @example averageRun(0.1, { failure: 4, signal: 12 }) // 347.897
 */
export function averageRun(rate: number, line: RunLine): number {
  return rate <= 0 ? Number.POSITIVE_INFINITY : firstUnknown(equations(rate, line));
}
