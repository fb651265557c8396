/** Variances to start from where a stock cannot carry its own: named, with their source, every number editable. */
import { unitsAt } from '../scoring/trait.ts';
import type { PlainModel } from './evaluation-input.ts';

/** Part of the spread among colonies that is due to worker and to queen effects, and how the two go together. */
export type Heritabilities = {
  /** `A·σ²w / σ²P` and `σ²q / σ²P` with `σ²P = A·σ²w + σwq + σ²q + σ²e`, A = {@link BASE_RELATIONSHIP}. */
  worker: number;
  queen: number;
  /** Genetic correlation of worker and queen effects, −1 to 1. */
  correlation: number;
};

/** Heritabilities by trait under one name. */
export type PublishedSet = {
  name: string;
  /** Whether it was estimated from data, or is the makers' judgement. */
  judged: boolean;
  source: string;
  traits: Readonly<Record<string, Heritabilities>>;
};

/** Mean relationship of the workers of a colony with one another that the published definition has: near that of ten to twelve drones of one drone mother (unrelated drones: 0.29). */
export const BASE_RELATIONSHIP = 0.5;

const of = (worker: number, queen: number, correlation: number): Heritabilities => ({ worker, queen, correlation });

/** The sets to choose from, the one to start from first. */
export const publishedSets: readonly PublishedSet[] = [
  {
    name: 'start',
    judged: true,
    // Between the published values below; several studies see worker and queen effects go against each other.
    source: 'Our judgement, not data',
    traits: {
      gentleness: of(0.35, 0.25, -0.3),
      calmness: of(0.35, 0.25, -0.3),
      swarming: of(0.25, 0.15, -0.3),
      honey: of(0.25, 0.15, -0.4),
      hygiene: of(0.25, 0.15, -0.2),
      'hygiene-frost': of(0.25, 0.15, -0.2),
      solidness: of(0.1, 0.1, -0.2),
      mites: of(0.1, 0.05, -0.2),
      'mite-fall': of(0.1, 0.05, -0.2),
      'mite-growth': of(0.1, 0.05, -0.2),
      wintering: of(0.1, 0.1, -0.2),
    },
  },
  {
    name: 'carnica-1990',
    judged: false,
    // The correlation as quoted by later papers (Apidologie 2016, introduction), from memory.
    source: 'Bienefeld and Pirchner 1990, Apidologie 21:175: 5,581 carnica colonies; correlation as quoted later',
    traits: { honey: of(0.26, 0.15, -0.9) },
  },
];

/** Heritabilities of a trait nobody published: those of honey, which lie in the middle. */
const UNKNOWN = of(0.25, 0.15, -0.3);

/**
 * The heritabilities (0-1, {@link BASE_RELATIONSHIP}) and the correlation a set gives for a trait; where it says nothing, those of the first set; for a trait
 * neither knows, 0.25, 0.15 and −0.3 (judgement).
 * @example publishedFor(publishedSets[1], 'honey') // { worker: 0.26, queen: 0.15, correlation: -0.9 }
 */
export function publishedFor(set: PublishedSet, trait: string): Heritabilities {
  return set.traits[trait] ?? publishedSets[0]?.traits[trait] ?? UNKNOWN;
}

/** One trait of a model: heritabilities, and the standard deviation among colonies of one yard-year, on the trait's scale. */
export type TraitVariances = Heritabilities & { trait: string; spread: number };

/**
 * Variance of worker effects, of queen effects, their covariance, and the residual of a colony record, in squares of the spread's unit. With A = ½ and P the
 * spread squared: worker = h²w·P/A, queen = h²q·P, mixed = r·√(worker·queen), residual = P − A·worker − mixed − queen (below 0 when the numbers cannot be, see
 * {@link canBe}). Definition: Brascamp and Bijma 2019, Genet Sel Evol 51:71.
 * @param given heritabilities 0-1, correlation −1 to 1, spread above 0
 * @example variancesOf({ worker: 0.25, queen: 0.15, correlation: 0, spread: 10 }) // { worker: 50, queen: 15, mixed: 0, residual: 60 }
 */
export function variancesOf({ worker, queen, correlation, spread }: Heritabilities & { spread: number }) {
  const all = spread ** 2;
  const [w, q] = [(worker * all) / BASE_RELATIONSHIP, queen * all];
  const mixed = correlation * Math.sqrt(w * q);
  return { worker: w, queen: q, mixed, residual: all - worker * all - mixed - q };
}

/**
 * Whether the numbers of a trait can be: parts between 0 and 1 (neither end), a correlation within ±0.99, a spread above 0, something left for the residual
 * ({@link variancesOf}).
 * @example canBe({ trait: 'honey', worker: 0.7, queen: 0.4, correlation: 0, spread: 8 }) // false; 0.7 + 0.4 leaves less than nothing
 * @example canBe({ trait: 'honey', worker: 0.25, queen: 0.15, correlation: -0.4, spread: 8 }) // true
 */
export function canBe(given: TraitVariances): boolean {
  const { worker, queen, correlation, spread } = given;
  const inside = worker > 0 && queen > 0 && worker < 1 && queen < 1 && Math.abs(correlation) <= 0.99 && spread > 0;
  return inside && variancesOf(given).residual > 0;
}

/** What two traits share, as a model takes it; see `TraitPair`. */
type Shared = {
  first: string;
  second: string;
  worker: number;
  queen: number;
  workerQueen: number;
  queenWorker: number;
  residual: number;
};

/**
 * G (2t × 2t) and R (t × t), lists of rows in squares of the traits' evaluation scales: each trait's own variances ({@link variancesOf}), and between two
 * traits `correlation · √(variance · variance)` for the pairs given; 0 for every other pair. Pairs of a trait not among these, or with itself, are passed
 * over. Whether the matrices can be is not asked here ({@link ./published-pairs.ts}).
 * @example modelOfTraits([{ trait: 'honey', worker: 0.25, queen: 0.15, correlation: 0, spread: 10 }], { fixed: [] }) // { G: [[50, 0], [0, 15]], R: [[60]] }
 */
export function modelOfTraits(
  traits: readonly TraitVariances[],
  { pairs = [], ...more }: Pick<PlainModel, 'fixed' | 'random'> & { pairs?: readonly Shared[] },
): PlainModel {
  const t = traits.length;
  const G = Array.from({ length: 2 * t }, () => Array<number>(2 * t).fill(0));
  const R = Array.from({ length: t }, () => Array<number>(t).fill(0));
  const put = (matrix: number[][], i: number, j: number, value: number) => {
    (matrix[i] as number[])[j] = value;
    (matrix[j] as number[])[i] = value;
  };
  for (const [s, given] of traits.entries()) {
    const { worker, queen, mixed, residual } = variancesOf(given);
    put(G, 2 * s, 2 * s, worker);
    put(G, 2 * s, 2 * s + 1, mixed);
    put(G, 2 * s + 1, 2 * s + 1, queen);
    put(R, s, s, residual);
  }
  const between = (matrix: number[][], i: number, j: number, correlation: number) =>
    put(matrix, i, j, correlation * Math.sqrt((matrix[i]?.[i] ?? 0) * (matrix[j]?.[j] ?? 0)));
  for (const { first, second, ...shared } of pairs) {
    const [a, b] = [first, second].map((name) => traits.findIndex(({ trait }) => trait === name)) as [number, number];
    if (a < 0 || b < 0 || a === b) continue;
    between(G, 2 * a, 2 * b, shared.worker);
    between(G, 2 * a + 1, 2 * b + 1, shared.queen);
    between(G, 2 * a, 2 * b + 1, shared.workerQueen);
    between(G, 2 * a + 1, 2 * b, shared.queenWorker);
    between(R, a, b, shared.residual);
  }
  return { traits: traits.map(({ trait }) => trait), G, R, ...more };
}

/**
 * Standard deviation among colonies within their yard-year (squares pooled over yard-years, divided by colonies less yard-years), on the trait's scale of
 * evaluation, and how many colonies there are; a usual one where that divisor is below 10 or all are alike. A yard-year must not be empty.
 * @example spreadWithin('honey', [[10, 20]]) // { spread: 8, colonies: 2 }; too few, so the usual one
 * @example spreadWithin('honey', [[10, 12, 14, 16, 18, 20], [30, 32, 34, 36, 38, 40]]).spread // Math.sqrt(14)
 */
export function spreadWithin(
  trait: string,
  groups: readonly (readonly number[])[],
): { spread: number; colonies: number } {
  let [squares, free, colonies] = [0, 0, 0];
  for (const group of groups) {
    const mean = group.reduce((sum, value) => sum + value, 0) / group.length;
    squares += group.reduce((sum, value) => sum + (value - mean) ** 2, 0);
    free += group.length - 1;
    colonies += group.length;
  }
  const seen = free >= 10 ? Math.sqrt(squares / free) : 0;
  return { spread: seen > 0 ? seen : usualSpread(trait), colonies };
}

/**
 * Usual spreads among colonies of one yard (common practice): half a step of a scale, 8 kg of honey, a fifth of brood cleared, a third more mites.
 */
function usualSpread(trait: string): number {
  const usual: Readonly<Record<string, number>> = {
    gentleness: 0.5,
    calmness: 0.5,
    swarming: 0.8,
    honey: 8,
    hygiene: 0.2,
    'hygiene-frost': 0.2,
    solidness: 0.1,
    mites: 0.4,
    'mite-fall': 0.5,
    'mite-growth': 0.01,
    wintering: 0.2,
  };
  return usual[trait] ?? 1 / unitsAt(trait, 1);
}
