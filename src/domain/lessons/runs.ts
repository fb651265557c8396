import { averageRun, failureStep, type RunLine, walkRun } from '#numeric/chance/run-line.ts';
import type { Outcome } from './outcome.ts';

/** Shares of failures: what is usual, and what should be noticed. */
export type RunLimits = { acceptable: number; bad: number };

export const USUAL_LIMITS: RunLimits = { acceptable: 0.1, bad: 0.3 };

/** A false signal about once in so many queens: two seasons of a busy station. */
const QUEENS_PER_FALSE_SIGNAL = 300;

/** The run line for these limits: the lowest signal that is false at most once in 300 queens. Throws on limits out of order. */
export function runLineFor({ acceptable, bad }: RunLimits): RunLine {
  const failure = failureStep(acceptable, bad);
  let signal = failure;
  while (averageRun(acceptable, { failure, signal }) < QUEENS_PER_FALSE_SIGNAL) signal++;
  return { failure, signal };
}

/** One point of a run line. */
export type RunPoint = { queen: string; height: number };

/** The run of one group: where it first signalled (the how-manieth queen, from 1), every signal, and the line itself. */
export type Run = { signalAt: number | null; signals: number[]; points: RunPoint[] };

/** Known outcomes in the order of insemination (rows without a day keep their place at the end). */
function inOrderOfInsemination(outcomes: readonly Outcome[]): Outcome[] {
  const known = outcomes.filter(({ laying }) => laying !== null);
  const place = ({ inseminated }: Outcome) => inseminated ?? '9999';
  return known.sort((a, b) => (place(a) < place(b) ? -1 : place(a) > place(b) ? 1 : 0));
}

/** The run line over a group's known outcomes: up for a queen not laying, down for one laying. Provisional while outcomes are open. */
export function runOf(outcomes: readonly Outcome[], line: RunLine): Run {
  const ordered = inOrderOfInsemination(outcomes);
  const { heights, signals } = walkRun(
    ordered.map(({ laying }) => laying === false),
    line,
  );
  return {
    signalAt: signals[0] ?? null,
    signals,
    points: ordered.map(({ queen }, i) => ({ queen, height: heights[i] ?? 0 })),
  };
}
