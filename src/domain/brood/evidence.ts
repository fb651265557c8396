import type { Problem } from '#units/problem.ts';

/** What was seen of sex alleles: allele labels of typed queens, and counts of brood. Queens by id. */
export type Evidence = {
  /** Two different labels per queen; the same label means the same allele. */
  alleles: readonly { queen: string; alleles: readonly [string, string] }[];
  /** Of `cells` cells a queen had laid in, `viable` held brood. */
  counts: readonly { queen: string; viable: number; cells: number }[];
  /** Part of the brood that is lost for other reasons, 0-1; default 0 (none). */
  otherLoss?: number;
};

export const NO_EVIDENCE: Evidence = { alleles: [], counts: [] };

export type BroodProblemCode =
  | 'brood-evidence-queen-unknown'
  | 'brood-evidence-group'
  | 'brood-alleles-alike'
  | 'brood-alleles-twice'
  | 'brood-alleles-too-many'
  | 'brood-count-impossible'
  | 'brood-evidence-contradicts';

export type BroodProblem = Problem<BroodProblemCode>;
