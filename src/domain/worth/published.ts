/**
 * Published variances, for stocks whose records cannot carry an estimate, and models made from them. Heritabilities are on the definition of
 * variances/heritability.ts (A·σ²w, σ²q over σ²P); values on other definitions differ by a factor of 2 to 3. All of them are a breeder's to edit.
 */
import { inverseOf } from '#numeric/dense/small-matrix.ts';
import type { Model } from './model.ts';

export type PublishedTrait = {
  trait: string;
  /** Heritability of the worker effect, of the queen effect, and the correlation of the two. */
  worker: number;
  queen: number;
  correlation: number;
};

export type PublishedSet = { name: string; source: string; traits: readonly PublishedTrait[] };

export const publishedSets: readonly PublishedSet[] = [
  {
    name: 'small stocks',
    source:
      'common practice, a judgement for stocks of fewer than about 500 records: between the published estimates of the last decades, not an estimate itself',
    traits: [
      { trait: 'honey', worker: 0.25, queen: 0.15, correlation: -0.4 },
      { trait: 'gentleness', worker: 0.35, queen: 0.25, correlation: -0.3 },
      { trait: 'calmness', worker: 0.35, queen: 0.25, correlation: -0.3 },
      { trait: 'swarming', worker: 0.25, queen: 0.15, correlation: -0.3 },
      { trait: 'hygiene', worker: 0.25, queen: 0.15, correlation: -0.2 },
      { trait: 'mite growth', worker: 0.1, queen: 0.05, correlation: -0.2 },
    ],
  },
  {
    name: 'carnica 1990',
    source:
      'Bienefeld and Pirchner 1990, Apidologie 21:175, 5,581 colonies; their correlation of about -0.9 belongs to a model that leaves out the covariance of sisters',
    traits: [
      { trait: 'honey', worker: 0.26, queen: 0.15, correlation: -0.9 },
      { trait: 'wax', worker: 0.39, queen: 0.45, correlation: -0.9 },
    ],
  },
];

/** Mean relationship of the workers of a colony where none is known: between 12 unrelated drones (.29) and 10 of one mother (.525). */
export const USUAL_WORKERS_RELATIONSHIP = 0.5;

export type TraitFigures = PublishedTrait & {
  /** Phenotypic standard deviation of a colony's record within its yard-year, in the trait's units. */
  deviation: number;
};

export type ModelWish = {
  traits: readonly TraitFigures[];
  fixed: Model['fixed'];
  workersRelationship?: number;
};

/**
 * A model from heritabilities and the spread of the records: `σ²w = h²w σ²P / A`, `σ²q = h²q σ²P`, `σwq = r σw σq`, `σ²e` what is left of σ²P. Traits are taken as
 * uncorrelated with one another. null when a trait leaves nothing for the residual or its correlation is not between −1 and 1.
 * @example modelFrom({ traits: [{ trait: 'honey', worker: 0.25, queen: 0.15, correlation: -0.4, deviation: 8 }], fixed: [['yard', 'year']] })
 */
export function modelFrom({
  traits,
  fixed,
  workersRelationship: a = USUAL_WORKERS_RELATIONSHIP,
}: ModelWish): Model | null {
  const t = traits.length;
  const G = new Float64Array(4 * t * t);
  const R = new Float64Array(t * t);
  for (const [s, { worker, queen, correlation, deviation }] of traits.entries()) {
    const whole = deviation ** 2;
    const [ofWorkers, ofQueens] = [(worker * whole) / a, queen * whole];
    const both = correlation * Math.sqrt(ofWorkers * ofQueens);
    const at = (i: number, j: number) => (2 * s + i) * 2 * t + 2 * s + j;
    G[at(0, 0)] = ofWorkers;
    G[at(1, 1)] = ofQueens;
    G[at(0, 1)] = both;
    G[at(1, 0)] = both;
    R[s * t + s] = whole - a * ofWorkers - both - ofQueens;
  }
  if (inverseOf(G, 2 * t) === null || inverseOf(R, t) === null) return null;
  return { traits: traits.map((one) => one.trait), fixed, G, R };
}
