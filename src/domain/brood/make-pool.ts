import type { RandomStream } from '#numeric/random/random-stream.ts';
import { FROM_OPEN, FROM_QUEEN } from '../pedigree/stock.ts';
import type { Dropping } from './dropping.ts';
import { drawSperm, type PoolAlleles, type PoolPart } from './pool-alleles.ts';
import type { QueenAlleles } from './queen-alleles.ts';
import { wholeDrones } from './whole-drones.ts';

/** A source of a pool, as the columns of a stock hold it: kind, queen or pool index, share, effective drones (or draws). */
export type Source = { kind: number; ref: number; share: number; drones: number };

/** Drones beyond this number are taken as infinitely many: each allele of their mother in half of the sperm. */
const MANY_DRONES = 400;

type Making = { random: RandomStream; oneOf: boolean };

/** Alleles of a pool whose queens and pools were dropped before; drones are whole (see {@link wholeDrones}) and of equal share. */
export function makePool(dropping: Dropping, sources: readonly Source[], { random, oneOf }: Making): PoolAlleles {
  const whole = oneOf ? sources.map(nearestWhole) : wholeNumbers(sources);
  const kept = sources.flatMap((source, k) => {
    const drones = whole[k] ?? 1;
    return drones > 0 ? [{ source, drones }] : [];
  });
  const sum = kept.reduce((total, { source }) => total + source.share, 0);
  const parts = kept.map(({ source, drones }) =>
    makePart(dropping, { ...source, share: source.share / sum, drones }, random),
  );
  const chosen = oneOf ? chooseParts(dropping.draws, parts, random) : null;
  return { draws: dropping.draws, parts, chosen };
}

const nearestWhole = (source: Source): number => Math.max(1, Math.round(source.drones));

/** Drones of mothers and open drones together by largest remainder; draws from other pools each for itself. */
function wholeNumbers(sources: readonly Source[]): number[] {
  const isCounted = (source: Source) =>
    (source.kind === FROM_QUEEN || source.kind === FROM_OPEN) && source.drones <= MANY_DRONES;
  const counted = sources.filter(isCounted);
  if (counted.length === 0) return sources.map(nearestWhole);
  const whole = wholeDrones(counted.map((source) => source.drones));
  return sources.map((source) => (isCounted(source) ? (whole[counted.indexOf(source)] ?? 0) : nearestWhole(source)));
}

/** Which alternative each draw took, by their probabilities. */
function chooseParts(draws: number, parts: readonly PoolPart[], random: RandomStream): Uint8Array {
  return Uint8Array.from({ length: draws }, () => {
    let left = random.uniform();
    for (const [k, part] of parts.entries()) {
      left -= part.share;
      if (left < 0) return k;
    }
    return parts.length - 1;
  });
}

function makePart(dropping: Dropping, source: Source, random: RandomStream): PoolPart {
  const { draws, alleles, pedigree } = dropping;
  const { share, drones } = source;
  if (source.kind === FROM_QUEEN) {
    const sisters = dropping.queens.get(pedigree.queenNode[source.ref] as number) ?? [];
    return drones > MANY_DRONES
      ? manyDrones(sisters, share, draws)
      : laidDrones({ draws, share, drones }, sisters, random);
  }
  if (source.kind === FROM_OPEN) {
    if (drones > MANY_DRONES) return { kind: 'population', share, alleles };
    return dronePart({ draws, share, drones }, () => random.below(alleles));
  }
  const pool = dropping.pools.get(pedigree.poolNode[source.ref] as number) as PoolAlleles;
  if (drones > MANY_DRONES) return { kind: 'pool', share, pool };
  return dronePart({ draws, share, drones }, (_, r) => drawSperm(pool, r, random));
}

type Size = { draws: number; share: number; drones: number };

function dronePart({ draws, share, drones }: Size, allele: (drone: number, r: number) => number): PoolPart {
  const alleles = new Uint16Array(drones * draws);
  for (let k = 0; k < drones; k++) for (let r = 0; r < draws; r++) alleles[k * draws + r] = allele(k, r);
  return { kind: 'drones', share, drones, alleles };
}

/** Drones spread evenly over the sisters, beginning with a random one in each draw. */
function laidDrones(size: Size, sisters: readonly QueenAlleles[], random: RandomStream): PoolPart {
  const first = Uint16Array.from({ length: size.draws }, () => (sisters.length > 1 ? random.below(sisters.length) : 0));
  return dronePart(size, (k, r) => {
    const mother = sisters[(k + (first[r] as number)) % sisters.length] as QueenAlleles;
    return (random.bits() & 1 ? mother.first[r] : mother.second[r]) as number;
  });
}

function manyDrones(sisters: readonly QueenAlleles[], share: number, draws: number): PoolPart {
  const mothers = sisters.map((mother): PoolPart => ({ kind: 'mother', share: 1 / sisters.length, mother }));
  const [only] = mothers;
  if (mothers.length === 1 && only) return { ...only, share };
  return { kind: 'pool', share, pool: { draws, parts: mothers, chosen: null } };
}
