/**
 * Sex alleles in a pool, in many draws at once: whole drones with one allele each, the two alleles of a mother (very many drones), alleles
 * of an open population, or another pool; as parts with shares, or as alternatives of which each draw chose one.
 */
import type { RandomStream } from '#numeric/random/random-stream.ts';
import type { QueenAlleles } from './queen-alleles.ts';

/** One part of a pool; arrays are `draws` long, drone k of draw r stands at k·draws + r. */
export type PoolPart =
  | { kind: 'drones'; share: number; drones: number; alleles: Uint16Array }
  | { kind: 'mother'; share: number; mother: QueenAlleles }
  | { kind: 'population'; share: number; alleles: number }
  | { kind: 'pool'; share: number; pool: PoolAlleles };

export type PoolAlleles = {
  draws: number;
  parts: PoolPart[];
  /** For a pool that is one of several: which part each draw chose. */
  chosen: Uint8Array | null;
};

/** Share of the sperm of draw r that carries `allele`. */
export function alleleShare(pool: PoolAlleles, r: number, allele: number): number {
  if (pool.chosen !== null) return partShare(pool, pool.parts[pool.chosen[r] as number] as PoolPart, r, allele);
  let sum = 0;
  for (const part of pool.parts) sum += part.share * partShare(pool, part, r, allele);
  return sum;
}

function partShare(pool: PoolAlleles, part: PoolPart, r: number, allele: number): number {
  switch (part.kind) {
    case 'drones': {
      let like = 0;
      for (let at = r; at < part.alleles.length; at += pool.draws) if (part.alleles[at] === allele) like++;
      return like / part.drones;
    }
    case 'mother':
      return (part.mother.first[r] === allele ? 0.5 : 0) + (part.mother.second[r] === allele ? 0.5 : 0);
    case 'population':
      return 1 / part.alleles;
    case 'pool':
      return alleleShare(part.pool, r, allele);
  }
}

/** The allele of a random sperm of draw r. */
export function drawSperm(pool: PoolAlleles, r: number, random: RandomStream): number {
  const part = pool.parts[partDrawn(pool, r, random)] as PoolPart;
  switch (part.kind) {
    case 'drones':
      return part.alleles[random.below(part.drones) * pool.draws + r] as number;
    case 'mother':
      return (random.bits() & 1 ? part.mother.first[r] : part.mother.second[r]) as number;
    case 'population':
      return random.below(part.alleles);
    case 'pool':
      return drawSperm(part.pool, r, random);
  }
}

function partDrawn(pool: PoolAlleles, r: number, random: RandomStream): number {
  if (pool.chosen !== null) return pool.chosen[r] as number;
  const last = pool.parts.length - 1;
  if (last === 0) return 0;
  let left = random.uniform();
  for (let k = 0; k < last; k++) {
    left -= (pool.parts[k] as PoolPart).share;
    if (left < 0) return k;
  }
  return last;
}

/** Viability of the brood of a queen and a pool in draw r: 1 − ½(share of her one allele + share of her other), ½ … 1. */
export const viabilityOf = (queen: QueenAlleles, pool: PoolAlleles, r: number): number =>
  1 - 0.5 * (alleleShare(pool, r, queen.first[r] as number) + alleleShare(pool, r, queen.second[r] as number));
