import type { RandomStream } from '#numeric/random/random-stream.ts';
import { alleleShare, drawSperm, type PoolAlleles } from './pool-alleles.ts';
import { noAlleles, type QueenAlleles } from './queen-alleles.ts';

/** A queen of unknown parents: two different alleles of `alleles` equally common ones. */
export function founder(draws: number, alleles: number, random: RandomStream): QueenAlleles {
  const queen = noAlleles(draws);
  for (let r = 0; r < draws; r++) {
    const first = random.below(alleles);
    const other = random.below(alleles - 1);
    queen.first[r] = first;
    queen.second[r] = other >= first ? other + 1 : other;
  }
  return queen;
}

/**
 * A viable daughter: an egg of the dam and a sperm of the pool, drawn again until their alleles differ. Larvae that could live exist
 * whatever the parents are (at least half of the brood), so this tells nothing about the parents and needs no weight.
 */
export function daughter(dam: QueenAlleles, pool: PoolAlleles, random: RandomStream): QueenAlleles {
  const { draws } = pool;
  const queen = noAlleles(draws);
  for (let r = 0; r < draws; r++) {
    for (;;) {
      const egg = (random.bits() & 1 ? dam.first[r] : dam.second[r]) as number;
      const sperm = drawSperm(pool, r, random);
      if (egg === sperm) continue;
      queen.first[r] = egg;
      queen.second[r] = sperm;
      break;
    }
  }
  return queen;
}

/** Chance that a viable daughter of this dam and pool carries exactly these two alleles, in draw r. */
export function chanceOfDaughter(
  dam: QueenAlleles,
  pool: PoolAlleles,
  r: number,
  known: readonly [number, number],
): number {
  const [one, two] = known;
  const a = dam.first[r] as number;
  const b = dam.second[r] as number;
  const copies = (allele: number) => (a === allele ? 1 : 0) + (b === allele ? 1 : 0);
  const shareOne = copies(two) > 0 ? alleleShare(pool, r, one) : 0;
  const shareTwo = copies(one) > 0 ? alleleShare(pool, r, two) : 0;
  const viable = 1 - 0.5 * (alleleShare(pool, r, a) + alleleShare(pool, r, b));
  return (0.5 * (copies(one) * shareTwo + copies(two) * shareOne)) / viable;
}
