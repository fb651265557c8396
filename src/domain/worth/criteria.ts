/**
 * What a breeder ranks by, as combinations of the effects of a queen and of the pool she carries, and how sure each is.
 *
 * d = worker effect, m = queen effect, W = ½Q + S her workers, and the mean of her daughters:
 * - `mother`, dam of queens: `w_d + w_m`;
 * - `drones`, drone mother: `u_d + u_m`, of which her drones pass on half;
 * - `colony`: `u_m + w_d`, why this colony performed as it did.
 *
 * A criterion is `k'(u_Q, g_S)`; its genetic variance is `k'(A ⊗ G)k` with A the relationships of Q and S, its error variance `k'Ck`, and its
 * reliability `1 − k'Ck / k'(A ⊗ G)k` (numbers cut to 0 … 1).
 */
import { makeWalk, seed, settle } from '#numeric/recursion/recursion.ts';
import { broodInbreedings } from '../pedigree/kinship.ts';
import type { Pedigree } from '../pedigree/laid-pedigree.ts';
import type { Equations } from './equations.ts';
import { eachPairError, type InverseOver, type PairError } from './error-variances.ts';

/** The three criteria, in the order they are told in. */
export const criteria = ['mother', 'drones', 'colony'] as const;
/** What a breeder ranks by; see above. */
export type Criterion = (typeof criteria)[number];

/** Parts of worker and queen effect: of the queen, then of the pool she carries. */
const parts: Readonly<Record<Criterion, readonly [number, number, number, number]>> = {
  mother: [0.5, 0.5, 1, 1],
  drones: [1, 1, 0, 0],
  colony: [0.5, 1, 1, 0],
};

/**
 * The combination a criterion is, over the effects of the queen (2t, worker and queen effect of each trait in turn), then of her pool (2t). W = ½Q + S; see
 * the head of this file.
 * @param weights one a trait, worth of one unit; [1, 0, …] for the first trait alone
 * @returns 4t numbers
 * @example combinationOf('mother', [1]) // [0.5, 0.5, 1, 1]; of the queen's two effects, of her pool's two
 */
export function combinationOf(criterion: Criterion, weights: ArrayLike<number>): Float64Array {
  const t = weights.length;
  const [qd, qm, sd, sm] = parts[criterion];
  const k = new Float64Array(4 * t);
  for (let s = 0; s < t; s++) {
    const w = weights[s] as number;
    k[2 * s] = qd * w;
    k[2 * s + 1] = qm * w;
    k[2 * t + 2 * s] = sd * w;
    k[2 * t + 2 * s + 1] = sm * w;
  }
  return k;
}

const form = (k: Float64Array, matrix: ArrayLike<number>): number => {
  let sum = 0;
  for (let i = 0; i < k.length; i++) {
    if (k[i] === 0) continue;
    for (let j = 0; j < k.length; j++)
      sum += (k[i] as number) * (k[j] as number) * (matrix[i * k.length + j] as number);
  }
  return sum;
};

/** Relationships of a queen and the pool she carries: of her with herself, with it, of it with itself. */
type PairRelationship = (queen: number) => readonly [number, number, number];

function relationshipsOf(pedigree: Pedigree, { descent }: Equations): PairRelationship {
  if (descent.groups === 0) {
    const { self, queenNode, carriedNode } = pedigree;
    const between = broodInbreedings(pedigree);
    const selfOf = (node: number | undefined) => self[node as number] as number;
    return (queen) => [selfOf(queenNode[queen]), between[queen] as number, selfOf(carriedNode[queen])];
  }
  const walk = makeWalk(descent.full);
  const between = (a: number, b: number) => {
    seed(walk, a, 1, 0);
    seed(walk, b, 0, 1);
    return settle(walk);
  };
  return (queen) => {
    const [row, pool] = [descent.queenRow[queen] as number, descent.carriedRow[queen] as number];
    return [between(row, row), between(row, pool), between(pool, pool)];
  };
}

/**
 * `k'(A ⊗ G)k`, the genetic variance of a combination of the effects of a queen and her pool, in squares of the unit of k'u (own derivation: bilinear form
 * written out). 0 or more when G and the relationships are those of one stock.
 * @param k 4t weights, queen then pool
 * @param G 2t × 2t, row after row, over the effects of one node
 * @param pair relationships of queen with herself (1 + F), with her pool, of the pool with itself
 * @example geneticVariance(combinationOf('drones', [1]), Float64Array.of(6, -2, -2, 4), [1, 0, 0.05]) // 6; 6 − 2 · 2 + 4
 */
export function geneticVariance(
  k: Float64Array,
  G: Float64Array,
  [qq, qs, ss]: readonly [number, number, number],
): number {
  const q = k.length / 2;
  let sum = 0;
  for (let i = 0; i < q; i++)
    for (let j = 0; j < q; j++) {
      const [a, b, c, d] = [k[i], k[j], k[q + i], k[q + j]] as [number, number, number, number];
      sum += (G[i * q + j] as number) * (qq * a * b + qs * (a * d + c * b) + ss * c * d);
    }
  return sum;
}

/** How sure a worth is: the standard deviation of its error in the trait's unit, and its reliability 0-1. */
export type Sureness = { error: number; reliability: number };

/**
 * Visits every queen with a function that tells how sure a combination (4t weights) is for her: error √(k'Ck) in the unit of k'u, C the inverse of the mixed
 * model equations over her and her pool, and reliability 1 − k'Ck / k'(A ⊗ G)k, cut to 0 … 1 (Henderson 1975, Biometrics 31:423); 0 where the combination has
 * no genetic variance. Nothing of the function may be kept: workspaces are used again.
 * @example const { pedigree } = workedPrepared(); const reliability = [];
 * eachSureness(pedigree, workedEquations(), workedInverse(), (_, of) => reliability.push(of(combinationOf('mother', [1])).reliability));
 * reliability.slice(0, 2) // [0.0950, 0.0716]; A and B
 */
export function eachSureness(
  pedigree: Pedigree,
  equations: Equations,
  inverse: InverseOver,
  visit: (queen: number, of: (k: Float64Array) => Sureness) => void,
): void {
  const relationship = relationshipsOf(pedigree, equations);
  eachPairError(equations, inverse, (queen, error: PairError) => {
    const pair = relationship(queen);
    visit(queen, (k) => {
      const variance = Math.max(0, form(k, error));
      const genetic = geneticVariance(k, equations.model.G, pair);
      return {
        error: Math.sqrt(variance),
        reliability: genetic > 0 ? Math.min(1, Math.max(0, 1 - variance / genetic)) : 0,
      };
    });
  });
}
