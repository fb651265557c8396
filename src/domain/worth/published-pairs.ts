/** What two traits share: correlations between their worker and queen effects and between their residuals; named, every number editable. */
import { choleskyInPlace } from '#numeric/dense/small-matrix.ts';
import { modelOfTraits, type TraitVariances } from './published.ts';

/** Correlations of two traits, each −1 to 1; what is left out of a list of pairs is 0. */
export type PairCorrelations = {
  /** Of the worker effect of the one with that of the other. */
  worker: number;
  /** Of their queen effects. */
  queen: number;
  /** Of the worker effect of the first with the queen effect of the second. */
  workerQueen: number;
  /** Of the queen effect of the first with the worker effect of the second. */
  queenWorker: number;
  /** Of what is left of a colony's two records beside yard-year and descent. */
  residual: number;
};

/** The correlations of two traits, by their names. */
export type TraitPair = PairCorrelations & { first: string; second: string };

/** Two traits without anything in common. */
export const nothingShared: PairCorrelations = { worker: 0, queen: 0, workerQueen: 0, queenWorker: 0, residual: 0 };

/** A published set of correlations between traits. */
export type PublishedPairs = { name: string; source: string; pairs: readonly TraitPair[] };

const pair = (first: string, second: string, genetic: Omit<PairCorrelations, 'residual'>): TraitPair => ({
  first,
  second,
  ...genetic,
  residual: 0,
});

/** The published sets, each with its source. */
export const publishedPairs: readonly PublishedPairs[] = [
  {
    name: 'carnica-1991',
    // One value is published for both crossed correlations. Aggressiveness is scored the other way round as gentleness: the signs are turned. No residual
    // correlation was seen: 0.
    source:
      'Bienefeld and Pirchner 1991, Ann Entomol Soc Am 84:324: the carnica colonies of 1990; volume and page from memory',
    pairs: [
      pair('honey', 'calmness', { worker: 0.36, queen: 0.31, workerQueen: -0.34, queenWorker: -0.34 }),
      pair('honey', 'gentleness', { worker: -0.03, queen: 0.06, workerQueen: -0.11, queenWorker: -0.11 }),
    ],
  },
];

/**
 * The same pair seen from the other trait: names and the two crossed correlations change places, the others stay.
 * @example turned({ ...nothingShared, first: 'honey', second: 'mites', workerQueen: 0.2 })
 * // { first: 'mites', second: 'honey', workerQueen: 0, queenWorker: 0.2 }
 */
export const turned = ({ first, second, workerQueen, queenWorker, ...same }: TraitPair): TraitPair => ({
  ...same,
  first: second,
  second: first,
  workerQueen: queenWorker,
  queenWorker: workerQueen,
});

/**
 * A published pair of two traits (correlations −1 to 1), in the order asked for, turned where the set has it the other way round; `null` when the set says
 * nothing of it.
 * @example publishedPairOf(publishedPairs[0], 'calmness', 'honey') // { first: 'calmness', second: 'honey', worker: 0.36, queen: 0.31 }
 */
export function publishedPairOf({ pairs }: PublishedPairs, first: string, second: string): TraitPair | null {
  for (const found of pairs) {
    if (found.first === first && found.second === second) return found;
    if (found.first === second && found.second === first) return turned(found);
  }
  return null;
}

function isDefinite(traits: readonly TraitVariances[], pairs: readonly TraitPair[]): boolean {
  const { G, R } = modelOfTraits(traits, { fixed: [], pairs });
  const definite = (rows: readonly (readonly number[])[]) =>
    choleskyInPlace(Float64Array.from(rows.flat()), rows.length, 1e-9);
  return definite(G) && definite(R);
}

const times = (found: TraitPair, part: number): TraitPair => ({
  ...found,
  worker: found.worker * part,
  queen: found.queen * part,
  workerQueen: found.workerQueen * part,
  queenWorker: found.queenWorker * part,
  residual: found.residual * part,
});

/** Why correlations between traits cannot be, and how much weaker they would have to be. */
export type PairsCannotBe = {
  /** Pairs that cannot be even alone; empty when only all of them together cannot. */
  alone: readonly TraitPair[];
  /** The largest part of every correlation between traits that could be, 0-1, rounded down to two places. */
  part: number;
};

/**
 * Whether correlations between traits can be at all: G and R must stay positive definite (every pivot of their Cholesky factors above 1e-9), so that every sum
 * of effects has a variance above 0. `null` when they can. The traits' own numbers must be possible already (`canBe`). The part is found by 30 halvings (own
 * derivation: possible covariances are a convex set that holds part 0).
 * @example const like = (trait) => ({ trait, worker: 0.25, queen: 0.25, correlation: 0, spread: 10 });
 * pairsCannotBe([like('a'), like('b')], [{ ...nothingShared, first: 'a', second: 'b', worker: 2 }]).part // 0.49; below ½, where the correlation is 1
 */
export function pairsCannotBe(traits: readonly TraitVariances[], pairs: readonly TraitPair[]): PairsCannotBe | null {
  if (isDefinite(traits, pairs)) return null;
  const of = ({ first, second }: TraitPair) => traits.filter(({ trait }) => trait === first || trait === second);
  let [low, high] = [0, 1];
  for (let step = 0; step < 30; step++) {
    const part = (low + high) / 2;
    const weaker = pairs.map((found) => times(found, part));
    if (isDefinite(traits, weaker)) low = part;
    else high = part;
  }
  return {
    alone: pairs.filter((found) => !isDefinite(of(found), [found])),
    part: Math.floor(low * 100) / 100,
  };
}

/**
 * All correlations between traits weakened to a part of themselves; own correlations of a trait are not touched.
 * @param part 0 (nothing shared) to 1 (as given); not checked
 * @example weakened([{ ...nothingShared, first: 'a', second: 'b', worker: 0.4 }], 0.5)[0].worker // 0.2
 */
export const weakened = (pairs: readonly TraitPair[], part: number): TraitPair[] =>
  pairs.map((found) => times(found, part));
