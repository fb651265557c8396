import { type ClosedStock, runReplicate } from './closed-stock.ts';

/** A cohort over all replicates. */
export type CohortOutlook = {
  cohort: number;
  meanViability: number;
  /** Standard deviation of the cohort's mean viability over replicates. */
  sdOfMean: number;
  allelesLeft: number;
  /** Mean coancestry of two different queens. */
  coancestry: number;
  shareOfColoniesBelowLimit: number;
  /** Part of the replicates whose mean viability reached the limit. */
  probabilityMeanAboveLimit: number;
};

export type LookAhead = {
  cohorts: CohortOutlook[];
  /** 1 / (2(1 − r)), r the ratio per cohort of (1 − coancestry) from cohort 4 to the last; null with fewer than 5 cohorts, or when nothing is lost. */
  effectiveSize: number | null;
};

export type LookAheadOptions = {
  replicates: number;
  seed: number;
  /** Viability, 0-1. */
  limit: number;
  /** Called after each replicate; `false` stops. */
  progress?: (done: number, whole: number) => boolean | undefined;
};

type Sums = { mean: number; squares: number; alleles: number; coancestry: number; below: number; above: number };

/** The first cohort counted towards the effective size: before it, coancestry has not settled. */
const SETTLED = 4;

/**
 * What a closed stock comes to over cohorts, averaged over replicates.
 * @example lookAhead({ breeders: 35, alleles: 20, drones: 10, scheme: 'random', cohorts: 20 }, { replicates: 500, seed: 1, limit: 0.85 })
 */
export function lookAhead(plan: ClosedStock, options: LookAheadOptions): LookAhead {
  const { seed, limit, replicates } = options;
  const sums = Array.from(
    { length: plan.cohorts + 1 },
    (): Sums => ({ mean: 0, squares: 0, alleles: 0, coancestry: 0, below: 0, above: 0 }),
  );
  let done = 0;
  while (done < replicates) {
    for (const [t, state] of runReplicate(plan, { seed, replicate: done, limit }).entries())
      addState(sums[t] as Sums, state, { done, limit });
    done++;
    if (options.progress?.(done, replicates) === false) break;
  }
  const cohorts = sums.map((sum, cohort) => ({
    cohort,
    meanViability: sum.mean,
    sdOfMean: Math.sqrt(sum.squares / done),
    allelesLeft: sum.alleles / done,
    coancestry: sum.coancestry / done,
    shareOfColoniesBelowLimit: sum.below / done,
    probabilityMeanAboveLimit: sum.above / done,
  }));
  return { cohorts, effectiveSize: effectiveSize(cohorts) };
}

/** Adds one replicate to a cohort's sums; mean and squares centred as they grow (Welford 1962). */
function addState(
  sum: Sums,
  state: ReturnType<typeof runReplicate>[0],
  { done, limit }: { done: number; limit: number },
): void {
  const step = state.meanViability - sum.mean;
  sum.mean += step / (done + 1);
  sum.squares += step * (state.meanViability - sum.mean);
  sum.alleles += state.alleles;
  sum.coancestry += state.coancestry;
  sum.below += state.belowLimit;
  if (state.meanViability >= limit - 1e-9) sum.above++;
}

function effectiveSize(cohorts: readonly CohortOutlook[]): number | null {
  const last = cohorts.length - 1;
  if (last <= SETTLED) return null;
  const left = (t: number) => 1 - (cohorts[t]?.coancestry ?? Number.NaN);
  const ratio = (left(last) / left(SETTLED)) ** (1 / (last - SETTLED));
  return ratio < 1 ? 1 / (2 * (1 - ratio)) : null;
}
