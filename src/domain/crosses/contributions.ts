/**
 * How much each candidate should contribute to the next cohort: shares of queens raised from dams, and of sperm from drone mothers, with the most
 * merit at a limit of group coancestry (optimum contributions, Meuwissen 1997, J Anim Sci 75:934, for queens and pools).
 *
 * The next queens average ½u_Q + g_S of their dams, their sperm ½u of the drone mothers, so the group that follows them is, in nodes of the
 * pedigree, `h = Σ x_i (¼ Q_i + ½ S_i) + Σ ½ y_j Q_j`; its relationship with itself is h'Ah, its coancestry half of that.
 */

import { mostGain, type ShareProblem } from '#numeric/quadratic/shares.ts';
import { covarianceWith } from '#numeric/recursion/recursion.ts';
import { type Pedigree, queenOf } from '../pedigree/laid-pedigree.ts';

export type Candidate = {
  queen: string;
  /** What a whole cohort raised from her, or sired by her drones alone, adds to the merit of the next; left out = not used so. */
  dam?: { merit: number; most: number };
  droneMother?: { merit: number; most: number };
};

export type Contributions = {
  merit: number;
  /** h'Ah; twice the group coancestry. */
  groupRelationship: number;
  dams: { queen: string; share: number }[];
  droneMothers: { queen: string; share: number }[];
};

/** `least`: the smallest group relationship the candidates allow, when it exceeds the limit. */
export type ContributionsAnswer =
  | { contributions: Contributions }
  | { least: number }
  | { missing: 'dams' | 'drone mothers' };

type Variable = { queen: string; side: 0 | 1; merit: number; most: number };

/** Weights of a candidate's side on the nodes. */
function weightsOf(pedigree: Pedigree, { queen, side }: Variable): [number, number][] {
  const i = queenOf(pedigree, queen);
  const node = pedigree.queenNode[i] as number;
  return side === 0
    ? [
        [node, 0.25],
        [pedigree.carriedNode[i] as number, 0.5],
      ]
    : [[node, 0.5]];
}

/** Relationship of every variable with every other: one pair of sweeps over the pedigree for each. */
function relationships(pedigree: Pedigree, variables: readonly Variable[]): Float64Array {
  const n = variables.length;
  const weights = variables.map((variable) => weightsOf(pedigree, variable));
  const K = new Float64Array(n * n);
  const h = new Float64Array(pedigree.recursion.size);
  for (const [i, own] of weights.entries()) {
    h.fill(0);
    for (const [node, weight] of own) h[node] = (h[node] as number) + weight;
    covarianceWith(pedigree.recursion, h);
    for (const [j, other] of weights.entries())
      K[i * n + j] = other.reduce((sum, [node, weight]) => sum + weight * (h[node] as number), 0);
  }
  for (let i = 0; i < n; i++)
    for (let j = 0; j < i; j++) K[i * n + j] = K[j * n + i] = ((K[i * n + j] as number) + (K[j * n + i] as number)) / 2;
  return K;
}

/** The contributions with the most merit whose group relationship does not exceed the limit. Throws when a queen is not in the pedigree. */
export function contributions(
  pedigree: Pedigree,
  candidates: readonly Candidate[],
  limitRelationship: number,
): ContributionsAnswer {
  const variables = candidates.flatMap(({ queen, dam, droneMother }): Variable[] => [
    ...(dam && dam.most > 0 ? [{ queen, side: 0 as const, ...dam }] : []),
    ...(droneMother && droneMother.most > 0 ? [{ queen, side: 1 as const, ...droneMother }] : []),
  ]);
  for (const side of [0, 1] as const) {
    const room = variables.filter((one) => one.side === side).reduce((sum, one) => sum + one.most, 0);
    if (room < 1 - 1e-9) return { missing: side === 0 ? 'dams' : 'drone mothers' };
  }
  const problem: ShareProblem = {
    K: relationships(pedigree, variables),
    gain: Float64Array.from(variables, (one) => one.merit),
    group: Int32Array.from(variables, (one) => one.side),
    groups: 2,
    upper: Float64Array.from(variables, (one) => Math.min(1, one.most)),
  };
  const found = mostGain(problem, limitRelationship);
  if (found.form > limitRelationship * (1 + 1e-9)) return { least: found.form };
  const shares = (side: 0 | 1) =>
    variables
      .map((one, k) => ({ queen: one.queen, side: one.side, share: found.z[k] as number }))
      .filter((one) => one.side === side && one.share > NOTHING)
      .map(({ queen, share }) => ({ queen, share }));
  return {
    contributions: { merit: found.gain, groupRelationship: found.form, dams: shares(0), droneMothers: shares(1) },
  };
}

/** Shares below this are rounding. */
const NOTHING = 1e-9;
