import { type RandomStream, randomStream } from '#numeric/random/random-stream.ts';
import type { Pedigree } from '../pedigree/laid-pedigree.ts';
import { NONE } from '../pedigree/stock.ts';
import { makeParticles, type Particles } from './particles.ts';
import type { PoolAlleles } from './pool-alleles.ts';
import type { QueenAlleles } from './queen-alleles.ts';
import type { SettledEvidence } from './settled-evidence.ts';

/** Sex alleles of the nodes that matter, while they are dropped; one block of draws. */
export type Dropping = {
  readonly pedigree: Pedigree;
  readonly draws: number;
  /** How many equally common alleles founders draw from, ≥ 2. */
  readonly alleles: number;
  readonly seed: number;
  /** Number of this block of draws: other blocks use other random streams. */
  readonly block: number;
  readonly evidence: SettledEvidence;
  readonly particles: Particles;
  /** The sisters at each queen node that was dropped (one for a queen). */
  readonly queens: Map<number, QueenAlleles[]>;
  /** The pool at each pool node that was dropped. */
  readonly pools: Map<number, PoolAlleles>;
};

/** A block of draws in which nothing has been dropped yet. */
export const makeDropping = (given: Omit<Dropping, 'particles' | 'queens' | 'pools'>): Dropping => ({
  ...given,
  particles: makeParticles(given.draws),
  queens: new Map(),
  pools: new Map(),
});

/** What a random stream is for; streams of different purposes never meet. */
const FOR = { node: 0, unknownParents: 1, renewal: 2, cross: 3, virgin: 4 } as const;
type Purpose = keyof typeof FOR;

/** The random stream of one node (or cross) for one purpose in this block, whatever else is dropped. */
export function streamOf(dropping: Dropping, purpose: Purpose, number: number): RandomStream {
  const room = dropping.pedigree.recursion.size + 4096;
  return randomStream(dropping.seed, (dropping.block * 5 + FOR[purpose]) * room + number);
}

/** The nodes the given ones descend from, and themselves, oldest first. */
export function neededNodes(pedigree: Pedigree, nodes: Iterable<number>): number[] {
  const { start, older, size } = pedigree.recursion;
  const isNeeded = new Uint8Array(size);
  for (const node of nodes) isNeeded[node] = 1;
  for (let node = size - 1; node >= 0; node--) {
    if (isNeeded[node] === 0) continue;
    for (let k = start[node] as number; k < (start[node + 1] as number); k++) isNeeded[older[k] as number] = 1;
  }
  const needed: number[] = [];
  for (let node = 0; node < size; node++) if (isNeeded[node] === 1) needed.push(node);
  return needed;
}

/** Which queen or pool stands at each node; both NONE where an open-mated queen's own pool stands. */
export function nodeKinds(pedigree: Pedigree): { queen: Int32Array; pool: Int32Array } {
  const queen = new Int32Array(pedigree.recursion.size).fill(NONE);
  const pool = new Int32Array(pedigree.recursion.size).fill(NONE);
  pedigree.queenNode.forEach((node, i) => {
    queen[node] = i;
  });
  pedigree.poolNode.forEach((node, p) => {
    pool[node] = p;
  });
  return { queen, pool };
}
