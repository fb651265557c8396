/**
 * The brood outlook of planned crosses: how much of it will be shot, by sex alleles dropped through the pedigree.
 *
 * ```ts
 * const outlook = broodOutlook(pedigree, [{ queen: 'Q1', sources: [{ queen: 'M', share: 1, drones: 10 }] }], { seed: 1 });
 * if (outlook.crosses !== null) outlook.crosses[0].expectedViability; // 0 … 1, its spread, and the chance to fall below the limit
 * ```
 *
 * A queen laying from {a, b} with a pool in which those alleles have shares π: viability V = 1 − ½(π_a + π_b), at least ½. Founders
 * carry two different ones of `alleles` equally common alleles; daughters are viable eggs of their dam and pool; drones are whole.
 * No other loss of brood is included.
 */

import type { SourceFact } from '../pedigree/facts.ts';
import { type Pedigree, queenOf } from '../pedigree/laid-pedigree.ts';
import { type PlannedCross, plannedInbreeding } from '../pedigree/planned-cross.ts';
import { FROM_OPEN, FROM_POOL, FROM_QUEEN, NONE } from '../pedigree/stock.ts';
import { dropAlleles } from './drop-alleles.ts';
import { type Dropping, makeDropping, neededNodes, nodeKinds, streamOf } from './dropping.ts';
import { type BroodProblem, type Evidence, NO_EVIDENCE } from './evidence.ts';
import { makePool, type Source } from './make-pool.ts';
import { type PoolAlleles, viabilityOf } from './pool-alleles.ts';
import type { QueenAlleles } from './queen-alleles.ts';
import { daughter } from './raise-queens.ts';
import { settleEvidence } from './settled-evidence.ts';

export type BroodOptions = {
  /** Equally common alleles founders and open drones draw from, 2 or more; default 12. */
  alleles?: number;
  /** Default 10,000. */
  draws?: number;
  /** Default 1. */
  seed?: number;
  /** Limit of viability, 0-1; default 0.85. */
  limit?: number;
  evidence?: Evidence;
};

/** What is expected of the brood of one cross. */
export type BroodOutlook = {
  /** Inbreeding of the brood: A(queen, pool). */
  inbreeding: number;
  expectedViability: number;
  sdViability: number;
  /** Chance that V < limit (a viability equal to the limit is not below it). */
  probabilityBelowLimit: number;
  draws: number;
  /** Draws of equal weight that carry as much as these, after evidence; `draws` without any. */
  effectiveDraws: number;
};

type Settings = { alleles: number; draws: number; seed: number; limit: number };

/** Draws dropped together when there is no evidence (with evidence all of them, because they are weighed against each other). */
const BLOCK = 2000;

export type BroodAnswer = { crosses: BroodOutlook[]; problems: [] } | { crosses: null; problems: BroodProblem[] };

/** The outlook of every cross, in order; or the evidence that cannot be. Throws when a queen or pool is not in the pedigree. */
export function broodOutlook(
  pedigree: Pedigree,
  crosses: readonly PlannedCross[],
  options: BroodOptions = {},
): BroodAnswer {
  const settings = { alleles: 12, draws: 10_000, seed: 1, limit: 0.85, ...withoutUndefined(options) };
  const settled = settleEvidence(pedigree, options.evidence ?? NO_EVIDENCE, settings.alleles);
  if (settled.evidence === null) return { crosses: null, problems: settled.problems };
  const { evidence } = settled;
  const isWeighed = evidence.known.size + evidence.counts.size > 0;
  const needed = neededNodes(pedigree, [
    ...crosses.flatMap((cross) => nodesOf(pedigree, cross)),
    ...evidenceNodes(pedigree, evidence),
  ]);
  const kinds = nodeKinds(pedigree);
  const sums = crosses.map(() => ({ weight: 0, mean: 0, squares: 0, below: 0, weights: 0 }));
  const size = isWeighed ? settings.draws : Math.min(BLOCK, settings.draws);
  for (let done = 0, block = 0; done < settings.draws; done += size, block++) {
    const draws = Math.min(size, settings.draws - done);
    const dropping = makeDropping({ pedigree, draws, alleles: settings.alleles, seed: settings.seed, block, evidence });
    const problem = dropAlleles(dropping, needed, kinds);
    if (problem) return { crosses: null, problems: [problem] };
    for (const [k, cross] of crosses.entries())
      addViability(dropping, cross, { sum: sums[k] as Sum, limit: settings.limit, cross: k });
  }
  return { crosses: crosses.map((cross, k) => outlookOf(pedigree, cross, sums[k] as Sum, settings)), problems: [] };
}

const withoutUndefined = (options: BroodOptions): Partial<Settings> =>
  Object.fromEntries(Object.entries(options).filter(([key, value]) => value !== undefined && key !== 'evidence'));

/** Weighted sums of viability (mean and squares by West 1979, Commun ACM 22:532). */
type Sum = { weight: number; mean: number; squares: number; below: number; weights: number };

function outlookOf(pedigree: Pedigree, cross: PlannedCross, sum: Sum, settings: Settings): BroodOutlook {
  return {
    inbreeding: plannedInbreeding(pedigree, cross),
    expectedViability: sum.mean,
    sdViability: Math.sqrt(sum.squares / sum.weight),
    probabilityBelowLimit: sum.below / sum.weight,
    draws: settings.draws,
    effectiveDraws: (sum.weight * sum.weight) / sum.weights,
  };
}

/** Nodes whose alleles a cross needs. */
function nodesOf(pedigree: Pedigree, cross: PlannedCross): number[] {
  const queen = queenOf(pedigree, 'queen' in cross ? cross.queen : cross.daughterOf);
  const egg = 'queen' in cross ? [pedigree.queenNode[queen]] : [pedigree.queenNode[queen], pedigree.carriedNode[queen]];
  const sources = cross.sources.map((source) => sourceNode(pedigree, source));
  return [...egg, ...sources].filter((node): node is number => node !== undefined && node !== NONE);
}

function sourceNode(pedigree: Pedigree, source: SourceFact): number {
  if ('queen' in source) return pedigree.queenNode[queenOf(pedigree, source.queen)] as number;
  return 'pool' in source ? (pedigree.poolNode[poolOf(pedigree, source.pool)] as number) : NONE;
}

function poolOf(pedigree: Pedigree, id: string): number {
  const pool = pedigree.stock.names.poolIndex(id);
  if (pool === NONE) throw new RangeError(`no pool ${id} in this pedigree`);
  return pool;
}

function evidenceNodes(pedigree: Pedigree, evidence: Dropping['evidence']): number[] {
  const typed = [...evidence.known.keys()].map((queen) => pedigree.queenNode[queen] as number);
  const counted = [...evidence.counts.values()]
    .flat()
    .flatMap(({ queen }) => [pedigree.queenNode[queen] as number, pedigree.carriedNode[queen] as number]);
  return [...typed, ...counted];
}

function sourceOf(pedigree: Pedigree, fact: SourceFact): Source {
  if ('queen' in fact)
    return { kind: FROM_QUEEN, ref: queenOf(pedigree, fact.queen), share: fact.share, drones: fact.drones };
  if ('open' in fact) return { kind: FROM_OPEN, ref: NONE, share: fact.share, drones: fact.drones };
  const drones = fact.draws ?? Number.POSITIVE_INFINITY;
  return { kind: FROM_POOL, ref: poolOf(pedigree, fact.pool), share: fact.share, drones };
}

/** The queen of a cross in every draw: herself, one of the sisters of a group, or a viable daughter to be raised. */
function eggSide(dropping: Dropping, cross: PlannedCross, number: number): QueenAlleles {
  const { pedigree } = dropping;
  const id = 'queen' in cross ? cross.queen : cross.daughterOf;
  const queen = queenOf(pedigree, id);
  const alleles = dropping.queens.get(pedigree.queenNode[queen] as number)?.[0] as QueenAlleles;
  if ('queen' in cross) return alleles;
  const pool = dropping.pools.get(pedigree.carriedNode[queen] as number) as PoolAlleles;
  return daughter(alleles, pool, streamOf(dropping, 'virgin', number));
}

function addViability(dropping: Dropping, cross: PlannedCross, into: { sum: Sum; limit: number; cross: number }): void {
  const sources = cross.sources.map((source) => sourceOf(dropping.pedigree, source));
  const pool = makePool(dropping, sources, { random: streamOf(dropping, 'cross', into.cross), oneOf: false });
  const queen = eggSide(dropping, cross, into.cross);
  const { sum } = into;
  for (let r = 0; r < dropping.draws; r++) {
    const viability = viabilityOf(queen, pool, r);
    const weight = dropping.particles.weight[r] as number;
    if (weight === 0) continue;
    sum.weight += weight;
    sum.weights += weight * weight;
    const step = (weight / sum.weight) * (viability - sum.mean);
    sum.squares += weight * (viability - sum.mean) * (viability - sum.mean - step);
    sum.mean += step;
    if (viability < into.limit - 1e-9) sum.below += weight;
  }
}
