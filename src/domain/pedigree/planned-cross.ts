/** A cross that is only planned: what its brood would be, before anything is written down. */
import { seed, settle } from '#numeric/recursion/recursion.ts';
import type { SourceFact } from './facts.ts';
import { covarianceOfNodes } from './kinship.ts';
import { droneMotherAt, type Pedigree, queenOf } from './laid-pedigree.ts';
import { drawVariance, droneVariance, openVariance } from './sampling.ts';
import { NONE } from './stock.ts';

/** The egg side: a queen of the stock, or a virgin still to be raised from a queen (an average daughter of her and the pool she carries). */
export type EggSide = { queen: string } | { daughterOf: string };

/** A queen and a new pool, whatever she carries now; shares of the sources are scaled to add up to 1. */
export type PlannedCross = EggSide & { sources: readonly SourceFact[] };

/** What is expected of a planned cross. */
export type CrossOutlook = {
  /** Inbreeding of its workers and daughters: A(queen, pool). */
  inbreeding: number;
  /** Additive relationship of two random daughters (or workers) of it: ¼(1+F_q) + A_ss + A(queen, pool). */
  sisterRelationship: number;
  /** Half the probability that two of its sperm are alike by descent. */
  poolSelf: number;
};

/** Nodes of the stock with the weights a combination has of them. */
type Terms = { node: number; weight: number }[];

/** The egg side. Throws when she is not in the stock. */
function eggTerms(pedigree: Pedigree, egg: EggSide): Terms {
  if ('queen' in egg) return [{ node: pedigree.queenNode[queenOf(pedigree, egg.queen)] as number, weight: 1 }];
  const dam = queenOf(pedigree, egg.daughterOf);
  return [
    { node: pedigree.queenNode[dam] as number, weight: 0.5 },
    { node: pedigree.carriedNode[dam] as number, weight: 1 },
  ];
}

/** What the planned pool has from the stock. Throws when a source is not in it. */
function poolTerms(pedigree: Pedigree, sources: readonly SourceFact[]): Terms {
  const whole = sources.reduce((sum, source) => sum + source.share, 0);
  return sources.flatMap((source) => {
    if ('open' in source) return [];
    const share = source.share / whole;
    return 'queen' in source
      ? [{ node: pedigree.queenNode[queenOf(pedigree, source.queen)] as number, weight: share / 2 }]
      : [{ node: pedigree.poolNode[poolOf(pedigree, source.pool)] as number, weight: share }];
  });
}

/** Covariance of two combinations. */
function covarianceOf({ walk }: Pedigree, left: Terms, right: Terms): number {
  for (const { node, weight } of left) seed(walk, node, weight, 0);
  for (const { node, weight } of right) seed(walk, node, 0, weight);
  return settle(walk);
}

function poolOf(pedigree: Pedigree, id: string): number {
  const pool = pedigree.stock.names.poolIndex(id);
  if (pool === NONE) throw new RangeError(`no pool ${id} in this pedigree`);
  return pool;
}

/** Sampling variance the drones of a planned pool add. */
function sampling(pedigree: Pedigree, sources: readonly SourceFact[]): number {
  const whole = sources.reduce((sum, source) => sum + source.share, 0);
  return sources.reduce((sum, source) => sum + (source.share / whole) ** 2 * sourceSampling(pedigree, source), 0);
}

function sourceSampling(pedigree: Pedigree, source: SourceFact): number {
  if ('open' in source) return openVariance(source.drones, source.alike);
  if ('queen' in source) return droneVariance(droneMotherAt(pedigree, queenOf(pedigree, source.queen)), source.drones);
  const self = pedigree.self[pedigree.poolNode[poolOf(pedigree, source.pool)] as number] as number;
  return source.draws === null ? 0 : drawVariance(self, source.draws);
}

/** Relationship of the egg side with itself if the queen herself, else with another daughter of the same dam. */
function eggSelf(pedigree: Pedigree, egg: EggSide): number {
  if ('queen' in egg) return 1 + (pedigree.inbreeding[queenOf(pedigree, egg.queen)] as number);
  const dam = queenOf(pedigree, egg.daughterOf);
  return 1 + covarianceOfNodes(pedigree, pedigree.queenNode[dam] as number, pedigree.carriedNode[dam] as number);
}

/**
 * Inbreeding, sister relationship and breadth of a planned cross; nothing is added to the stock. Shares need only be above 0. Throws when a queen or
 * pool is not in the stock. Two or three walks up the ancestors.
 * @example plannedCross(workedPedigree(), { queen: 'A', sources: [{ queen: 'A', share: 1, drones: 5 }] }) // { inbreeding: 0.5, poolSelf: 0.3 }; ¼ + ¼/5
 */
export function plannedCross(pedigree: Pedigree, cross: PlannedCross): CrossOutlook {
  const inbreeding = plannedInbreeding(pedigree, cross);
  const pool = poolTerms(pedigree, cross.sources);
  const poolSelf = covarianceOf(pedigree, pool, pool) + sampling(pedigree, cross.sources);
  return { inbreeding, poolSelf, sisterRelationship: 0.25 * eggSelf(pedigree, cross) + poolSelf + inbreeding };
}

/**
 * Only the inbreeding of a planned cross, 0-1: A(egg side, pool), one walk up the ancestors of both sides. Throws as {@link plannedCross}.
 * @example plannedInbreeding(workedPedigree(), { daughterOf: 'A', sources: [{ queen: 'C', share: 1, drones: 5 }] }) // 0.25; half her father's mother's genes
 */
export function plannedInbreeding(pedigree: Pedigree, cross: PlannedCross): number {
  return covarianceOf(pedigree, eggTerms(pedigree, cross), poolTerms(pedigree, cross.sources));
}
