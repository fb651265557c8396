import { workersRelationships } from '../../pedigree/kinship.ts';
import type { Pedigree } from '../../pedigree/laid-pedigree.ts';
import type { Model } from '../model.ts';
import type { Records } from '../records.ts';

/** Heritabilities of one trait, and the definition they hold for (values on other definitions differ by a factor of 2 to 3). */
export type Heritability = {
  worker: number;
  queen: number;
  /** Of worker and queen effect together, with their covariance. */
  total: number;
  phenotypicVariance: number;
  /** Mean relationship of a colony's workers with one another over the recorded colonies. */
  workersRelationship: number;
  correlation: number;
};

/** What is meant by heritability here, as it stands beside every answer. */
export const DEFINITION =
  'worker = A·σ²w/σ²P, queen = σ²q/σ²P, total = (A·σ²w + σwq + σ²q)/σ²P with σ²P = A·σ²w + σwq + σ²q + σ²e; ' +
  'A = mean relationship of the workers of a recorded colony with one another (workersRelationship), σ²w and σ²q variances of worker and queen effects of ' +
  'queens, σwq their covariance, σ²e the residual variance of a colony record (Brascamp and Bijma 2019, Genet Sel Evol 51:71, with the base relationship replaced by the mean of these colonies)';

/**
 * Heritabilities of every trait at a model's G and R, for the colonies recorded, by {@link DEFINITION}: parts of the phenotypic variance, which may be above
 * 1 or below 0 one by one where the covariance is large and negative. A is the mean over records of ¼A_QQ + A_SS + A_QS.
 * @example const { pedigree, records, model } = workedPrepared();
 * heritabilities(pedigree, records, model).honey // { workersRelationship: 0.52639, phenotypicVariance: 15.15833, worker: 0.20836, queen: 0.26388 }
 */
export function heritabilities(pedigree: Pedigree, records: Records, model: Model): Record<string, Heritability> {
  const t = model.traits.length;
  const q = 2 * t;
  const a = meanWorkersRelationship(pedigree, records);
  return Object.fromEntries(
    model.traits.map((trait, s) => {
      const g = (i: number, j: number) => model.G[(2 * s + i) * q + 2 * s + j] as number;
      const [worker, mixed, queen] = [a * g(0, 0), g(0, 1), g(1, 1)];
      const phenotypicVariance = worker + mixed + queen + (model.R[s * t + s] as number);
      return [
        trait,
        {
          worker: worker / phenotypicVariance,
          queen: queen / phenotypicVariance,
          total: (worker + mixed + queen) / phenotypicVariance,
          phenotypicVariance,
          workersRelationship: a,
          correlation: mixed / Math.sqrt(g(0, 0) * g(1, 1)),
        },
      ];
    }),
  );
}

function meanWorkersRelationship(pedigree: Pedigree, records: Records): number {
  const all = workersRelationships(pedigree);
  let sum = 0;
  for (const queen of records.queen) sum += all[queen] as number;
  return sum / records.count;
}
