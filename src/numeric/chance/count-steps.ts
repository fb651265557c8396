import { leastWhere, ROUNDING } from './binomial.ts';
import { type CountChances, countAtLeast } from './count-chances.ts';
import { betaShapes, type Factor, isPoint, meanOf } from './factor.ts';
import { binomialTerm } from './saddle-point.ts';

/** A share 0-1: known, or a Beta with that mean and standard deviation. */
export type Share = Extract<Factor, { kind: 'point' | 'share' }>;

/** Adds weight × P(k of m) for k = 0 … m. Either end is reached by ratios from the other, so nothing underflows for m up to a few thousand. */
function addStep(into: CountChances, m: number, share: Share, weight: number): void {
  const mean = meanOf(share);
  if (mean <= 0 || mean >= 1) {
    const k = mean <= 0 ? 0 : m;
    into[k] = (into[k] ?? 0) + weight;
    return;
  }
  if (isPoint(share)) {
    for (let k = 0; k <= m; k++) into[k] = (into[k] ?? 0) + weight * binomialTerm(k, m, mean, 1 - mean);
    return;
  }
  const { a, b } = betaShapes(mean, (share as Extract<Share, { kind: 'share' }>).sd);
  addBetaBinomial(into, { m, a, b, weight });
}

type Step = { m: number; a: number; b: number; weight: number };

/** Beta-binomial probabilities by the ratio P(k+1)/P(k) = (m−k)/(k+1) · (k+a)/(m−k−1+b), scaled to add up to the weight. */
function addBetaBinomial(into: CountChances, { m, a, b, weight }: Step): void {
  const logs = new Float64Array(m + 1);
  for (let k = 0; k < m; k++) {
    const ratio = (((m - k) / (k + 1)) * (k + a)) / (m - k - 1 + b);
    logs[k + 1] = (logs[k] ?? 0) + Math.log(ratio);
  }
  const top = logs.reduce((most, log) => Math.max(most, log), Number.NEGATIVE_INFINITY);
  const terms = logs.map((log) => Math.exp(log - top));
  const scale = weight / terms.reduce((sum, term) => sum + term, 0);
  for (let k = 0; k <= m; k++) into[k] = (into[k] ?? 0) + scale * (terms[k] ?? 0);
}

/**
 * The chances of a count after one step that each comes through with the same share, known or a Beta (drawn once for all of them): exactly,
 * the binomial or beta-binomial of every count before; as many numbers as before. Time: the square of that. Meant for counts up to some hundred;
 * count-mixture.ts takes thousands.
 * @example stepThrough(known(2), { kind: 'point', value: 0.5 }) // [0.25, 0.5, 0.25]
 */
export function stepThrough(before: CountChances, share: Share): CountChances {
  const after = new Float64Array(before.length);
  before.forEach((weight, m) => {
    if (weight > 0) addStep(after, m, share, weight);
  });
  return after;
}

/**
 * The chances of a count that is known: `count` + 1 numbers, the last 1, the others 0.
 * @example known(2) // [0, 0, 1]
 */
export function known(count: number): CountChances {
  const chances = new Float64Array(count + 1);
  chances[count] = 1;
  return chances;
}

/**
 * The chances of 0 … n after several steps one after another, beginning with n: {@link stepThrough} for each share.
 * @example throughSteps(2, [{ kind: 'point', value: 0.5 }, { kind: 'point', value: 0.5 }]) // [0.5625, 0.375, 0.0625]
 */
export const throughSteps = (n: number, shares: readonly Share[]): CountChances => shares.reduce(stepThrough, known(n));

/**
 * The least number to begin with so that at least k come through all steps with chance `sure`; Infinity when more than `most` would be
 * needed, 0 when k <= 0.
 * @example leastThroughSteps({ k: 1, sure: 0.9, most: 100 }, [{ kind: 'point', value: 0.5 }]) // 4
 */
export function leastThroughSteps(asked: { k: number; sure: number; most: number }, shares: readonly Share[]): number {
  const { k, sure, most } = asked;
  const enough = (n: number) => countAtLeast(k, throughSteps(n, shares)) >= sure - ROUNDING;
  return k <= 0 ? 0 : leastWhere(enough, k, most);
}
