import { logBeta, logGamma } from './log-gamma.ts';

/** Successes out of trials in one group. */
export type Tally = { successes: number; trials: number };

/**
 * Shares that differ between groups like draws from Beta(a, b), a = mean/spread, b = (1 − mean)/spread.
 * `spread` 0 means all groups share one rate; ρ = spread/(1 + spread) is the correlation within a group.
 */
export type BetaSpread = { mean: number; spread: number };

const clamp = (value: number, low: number, high: number) => Math.min(high, Math.max(low, value));

/**
 * ln of C(n, k) B(k + a, n − k + b)/B(a, b): the log-probability of k of n when the share itself is a Beta(a, b) draw. k and n whole, 0 <= k <= n, a, b > 0;
 * throws outside (see {@link logGamma}).
 * @example betaBinomialLog(1, 1, 2, 3) // Math.log(2 / 5); the mean of Beta(2, 3)
 */
export function betaBinomialLog(k: number, n: number, a: number, b: number): number {
  return logGamma(n + 1) - logGamma(k + 1) - logGamma(n - k + 1) + logBeta(k + a, n - k + b) - logBeta(a, b);
}

type Slopes = { value: number; m: number; s: number; mm: number; ms: number; ss: number };

/** Adds Σ_{j<count} ln(base + j·spread) with derivatives to (mean, spread); `sign` is d base / d mean, or 0. */
function addRising(into: Slopes, base: number, spread: number, count: number, sign: number, weight: number): void {
  for (let j = 0; j < count; j++) {
    const term = base + j * spread;
    into.value += weight * Math.log(term);
    into.m += (weight * sign) / term;
    into.s += (weight * j) / term;
    into.mm -= (weight * sign * sign) / (term * term);
    into.ms -= (weight * sign * j) / (term * term);
    into.ss -= (weight * j * j) / (term * term);
  }
}

/**
 * Log-likelihood of the tallies (binomial coefficients left out) with its slopes. The rising products
 * Π(mean + j·spread) Π(1 − mean + j·spread) / Π(1 + j·spread) are smooth through spread 0, where B(a, b) is not.
 */
function likelihood(tallies: readonly Tally[], { mean, spread }: BetaSpread): Slopes {
  const slopes: Slopes = { value: 0, m: 0, s: 0, mm: 0, ms: 0, ss: 0 };
  for (const { successes, trials } of tallies) {
    addRising(slopes, mean, spread, successes, 1, 1);
    addRising(slopes, 1 - mean, spread, trials - successes, -1, 1);
    addRising(slopes, 1, spread, trials, 0, -1);
  }
  return slopes;
}

/** Newton's step where the surface is a hill, steepest ascent where it is not; along the edge when spread is pressed to 0. */
function stepFrom({ m, s, mm, ms, ss }: Slopes, { spread }: BetaSpread): BetaSpread {
  if (spread === 0 && s <= 0) return { mean: -m / mm, spread: 0 };
  const det = mm * ss - ms * ms;
  if (mm < 0 && det > 0) return { mean: -(ss * m - ms * s) / det, spread: -(mm * s - ms * m) / det };
  const size = Math.hypot(m, s) || 1;
  return { mean: (0.1 * m) / size, spread: (0.1 * s) / size };
}

/**
 * The Beta that makes the tallies most likely (maximum likelihood), by Newton steps halved until they climb.
 * Groups without trials are passed over. When all groups agree better than chance the spread is 0; when all trials
 * succeeded (or none) the mean is 1 (or 0) with spread 0. Throws when there is no trial at all. Time: at most 200 steps, each a few passes over all
 * trials.
 * @example fitBetaSpread([{ successes: 9, trials: 10 }, { successes: 4, trials: 10 }, { successes: 7, trials: 10 }]) // { mean: 0.667, spread: 0.106 }
 */
export function fitBetaSpread(tallies: readonly Tally[]): BetaSpread {
  const tried = tallies.filter(({ trials }) => trials > 0);
  const trials = tried.reduce((sum, one) => sum + one.trials, 0);
  const mean = tried.reduce((sum, one) => sum + one.successes, 0) / trials;
  if (trials === 0) throw new RangeError('no trials to fit');
  if (mean === 0 || mean === 1) return { mean, spread: 0 };
  let at: BetaSpread = { mean, spread: 0.1 };
  let slopes = likelihood(tried, at);
  for (let round = 0; round < 200; round++) {
    const step = stepFrom(slopes, at);
    const better = climb(tried, at, slopes.value, step);
    if (better === null) break;
    [at, slopes] = [better, likelihood(tried, better)];
  }
  return at;
}

/** The longest halving of a step that climbs, or `null` when none does any more. */
function climb(tallies: readonly Tally[], at: BetaSpread, from: number, step: BetaSpread): BetaSpread | null {
  for (let scale = 1; scale > 1e-14; scale /= 2) {
    const next = {
      mean: clamp(at.mean + scale * step.mean, 1e-12, 1 - 1e-12),
      spread: Math.max(0, at.spread + scale * step.spread),
    };
    if (next.mean === at.mean && next.spread === at.spread) return null;
    if (likelihood(tallies, next).value > from) return next;
  }
  return null;
}

/**
 * The share of one group drawn towards the mean of all: (x + a)/(n + a + b), 0-1, written so that spread 0 gives the mean; a group without trials
 * gets it too.
 * @example shrink({ successes: 9, trials: 10 }, { mean: 0.5, spread: 0.1 }) // 0.7; (9 + 5) / (10 + 10)
 */
export function shrink({ successes, trials }: Tally, { mean, spread }: BetaSpread): number {
  return (mean + spread * successes) / (1 + spread * trials);
}
