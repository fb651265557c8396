import { atLeast, leastWhere, ROUNDING } from './binomial.ts';
import type { CountChances } from './count-chances.ts';
import type { Nodes } from './factor-product.ts';
import { binomialTerm } from './saddle-point.ts';

const shareAt = ({ values }: Nodes, i: number) => Math.min(1, values[i] ?? 0);

/** Adds weight × Binomial(n, p) to the chances, outwards from the likeliest count until nothing is left to add. */
function addBinomial(into: CountChances, n: number, p: number, weight: number): void {
  if (p <= 0 || p >= 1) {
    const k = p <= 0 ? 0 : n;
    into[k] = (into[k] ?? 0) + weight;
    return;
  }
  const middle = Math.min(n, Math.floor((n + 1) * p));
  const top = weight * binomialTerm(middle, n, p, 1 - p);
  const odds = p / (1 - p);
  let term = top;
  for (let k = middle; k <= n && term > 1e-18 * weight; k++) {
    into[k] = (into[k] ?? 0) + term;
    term *= ((n - k) / (k + 1)) * odds;
  }
  term = top;
  for (let k = middle; k > 0; k--) {
    term *= k / (n - k + 1) / odds;
    if (term < 1e-18 * weight) break;
    into[k - 1] = (into[k - 1] ?? 0) + term;
  }
}

/**
 * How many of n come through when each does with the same, doubtful share: the binomial mixed over the nodes of the share,
 * P(k) = Σ_i weight_i C(n, k) p_iᵏ (1 − p_i)ⁿ⁻ᵏ, n + 1 numbers. n whole, >= 0, to tens of thousands; a share above 1 counts as 1. For Beta shares of
 * several steps it is the chain of count-steps.ts, as near as the nodes allow. Time: nodes × counts that have any weight (some √n each).
 * @example throughChances(2, factorProduct([{ kind: 'point', value: 0.5 }])) // [0.25, 0.5, 0.25]
 */
export function throughChances(n: number, share: Nodes): CountChances {
  const chances = new Float64Array(n + 1);
  share.weights.forEach((weight, i) => {
    addBinomial(chances, n, shareAt(share, i), weight);
  });
  return chances;
}

/**
 * The chance, 0-1, that at least k of n come through: {@link atLeast} mixed over the nodes, without the other counts.
 * @example throughAtLeast(1, 2, factorProduct([{ kind: 'point', value: 0.5 }])) // 0.75
 */
export function throughAtLeast(k: number, n: number, share: Nodes): number {
  return share.weights.reduce((sum, weight, i) => sum + weight * atLeast(k, n, shareAt(share, i)), 0);
}

/**
 * The least number to begin with so that at least k come through with chance `sure`; Infinity when more than `most` would be needed (a
 * share that may be nearly nothing can never be made sure). 0 when k <= 0. A chance within 1e-12 of `sure` counts as reached.
 * @example leastToBegin({ k: 106, sure: 0.9, most: 1000 }, factorProduct([{ kind: 'point', value: 0.5 }])) // 231
 */
export function leastToBegin({ k, sure, most }: { k: number; sure: number; most: number }, share: Nodes): number {
  if (k <= 0) return 0;
  return leastWhere((n) => throughAtLeast(k, n, share) >= sure - ROUNDING, k, most);
}
