/**
 * Sex alleles dropped through a pedigree, from founders down, in many draws at once. Neutral inbreeding overstates how alike brood is at
 * this place, because a queen is never alike there; so it is dropped, not computed (tests/golden/brood compares the two).
 */
import { binomialProbability } from '#numeric/chance/binomial.ts';
import { refuse } from '#units/problem.ts';
import { FROM_OPEN, NONE, OPEN_MATING_DRONES, sourcesOf } from '../pedigree/stock.ts';
import { type Dropping, type nodeKinds, streamOf } from './dropping.ts';
import type { BroodProblem } from './evidence.ts';
import { makePool, type Source } from './make-pool.ts';
import { effectiveDraws, observe, rearrange, resample } from './particles.ts';
import { type PoolAlleles, viabilityOf } from './pool-alleles.ts';
import { noAlleles, type QueenAlleles } from './queen-alleles.ts';
import { chanceOfDaughter, daughter, founder } from './raise-queens.ts';

/** Drops the needed nodes, oldest first, meeting the evidence on the way; answers the problem when no draw agrees with it. */
export function dropAlleles(
  dropping: Dropping,
  needed: readonly number[],
  kinds: ReturnType<typeof nodeKinds>,
): BroodProblem | null {
  for (const node of needed) {
    const queen = kinds.queen[node] as number;
    const problem = queen === NONE ? null : dropQueen(dropping, node, queen);
    if (queen === NONE) dropPool(dropping, node, kinds.pool[node] as number);
    const contradicted = problem ?? meetCounts(dropping, node);
    if (contradicted) return contradicted;
    renewDraws(dropping, node);
  }
  return null;
}

const OPEN_SOURCE: Source = { kind: FROM_OPEN, ref: NONE, share: 1, drones: OPEN_MATING_DRONES };

function dropPool(dropping: Dropping, node: number, pool: number): void {
  const { columns } = dropping.pedigree.stock;
  const random = streamOf(dropping, 'node', node);
  if (pool === NONE) {
    dropping.pools.set(node, makePool(dropping, [OPEN_SOURCE], { random, oneOf: false }));
    return;
  }
  const [from, to] = sourcesOf(columns, pool);
  const sources = Array.from({ length: to - from }, (_, k) => ({
    kind: columns.sourceKind[from + k] as number,
    ref: columns.sourceRef[from + k] as number,
    share: columns.sourceShare[from + k] as number,
    drones: columns.sourceDrones[from + k] as number,
  }));
  dropping.pools.set(node, makePool(dropping, sources, { random, oneOf: columns.oneOf[pool] === 1 }));
}

/** Dam and pool of a queen as they were dropped; unknown ones are drawn here. */
function parentsOf(dropping: Dropping, node: number, queen: number): { dam: QueenAlleles; pool: PoolAlleles } | null {
  const { recursion, stock } = dropping.pedigree;
  const first = recursion.start[node] as number;
  const stop = recursion.start[node + 1] as number;
  const sisters = stock.columns.sisters[queen] as number;
  if (first === stop && sisters === 1) return null;
  const random = streamOf(dropping, 'unknownParents', node);
  const unknownDam = () => founder(dropping.draws, dropping.alleles, random);
  if (first === stop) return { dam: unknownDam(), pool: makePool(dropping, [OPEN_SOURCE], { random, oneOf: false }) };
  const pool = dropping.pools.get(recursion.older[stop - 1] as number) as PoolAlleles;
  if (stop - first === 1) return { dam: unknownDam(), pool };
  return { dam: dropping.queens.get(recursion.older[first] as number)?.[0] as QueenAlleles, pool };
}

function dropQueen(dropping: Dropping, node: number, queen: number): BroodProblem | null {
  const { stock } = dropping.pedigree;
  const random = streamOf(dropping, 'node', node);
  const parents = parentsOf(dropping, node, queen);
  const known = dropping.evidence.known.get(queen);
  if (known) {
    const alleles = fixedAlleles(dropping.draws, known);
    dropping.queens.set(node, [alleles]);
    if (parents === null) return null;
    const agrees = observe(dropping.particles, (r) => chanceOfDaughter(parents.dam, parents.pool, r, known));
    return agrees ? null : refuse('alleles', 'brood-evidence-contradicts', { queen: stock.names.queenName(queen) });
  }
  const sisters = Array.from({ length: stock.columns.sisters[queen] as number }, () =>
    parents === null ? founder(dropping.draws, dropping.alleles, random) : daughter(parents.dam, parents.pool, random),
  );
  dropping.queens.set(node, sisters);
  return null;
}

function fixedAlleles(draws: number, [one, two]: readonly [number, number]): QueenAlleles {
  const alleles = noAlleles(draws);
  alleles.first.fill(one);
  alleles.second.fill(two);
  return alleles;
}

/** Weighs the draws by the brood counts that can be met once this node stands. */
function meetCounts(dropping: Dropping, node: number): BroodProblem | null {
  const { pedigree, evidence } = dropping;
  for (const { queen, viable, cells } of evidence.counts.get(node) ?? []) {
    const alleles = dropping.queens.get(pedigree.queenNode[queen] as number)?.[0] as QueenAlleles;
    const pool = dropping.pools.get(pedigree.carriedNode[queen] as number) as PoolAlleles;
    const agrees = observe(dropping.particles, (r) =>
      binomialProbability(viable, cells, viabilityOf(alleles, pool, r) * (1 - evidence.otherLoss)),
    );
    if (!agrees)
      return refuse('counts', 'brood-evidence-contradicts', { queen: pedigree.stock.names.queenName(queen) });
  }
  return null;
}

/** Draws anew from the weighted ones when fewer than a tenth of them carry the weight. */
function renewDraws(dropping: Dropping, node: number): void {
  const { particles, draws } = dropping;
  if (effectiveDraws(particles) >= draws / 10) return;
  const from = resample(particles, streamOf(dropping, 'renewal', node));
  for (const sisters of dropping.queens.values()) {
    for (const queen of sisters) {
      rearrange(queen.first, from);
      rearrange(queen.second, from);
    }
  }
  for (const pool of dropping.pools.values()) {
    if (pool.chosen !== null) rearrange(pool.chosen, from);
    for (const part of pool.parts) if (part.kind === 'drones') rearrange(part.alleles, from);
  }
}
