/** Which virgins get whose semen: whole queens of each dam to drone mothers, with as little inbreeding and shot brood as can be. */
import { allocate, wholeShares } from '#numeric/transport/allocate.ts';
import { type BroodOptions, broodOutlook } from '../brood/brood.ts';
import type { Pedigree } from '../pedigree/laid-pedigree.ts';
import type { PlannedCross } from '../pedigree/planned-cross.ts';
import type { Contributions } from './contributions.ts';

export type Allotment = {
  dam: string;
  droneMothers: { queen: string; share: number }[];
  queens: number;
  inbreeding: number;
  expectedViability: number;
};

export type AllocationOptions = {
  /** Queens to be inseminated. */
  queens: number;
  /** Effective drones in an insemination; default 10. */
  drones?: number;
  /** Most queens raised from a dam, and most inseminated with drones of a mother. */
  mostOfDam?: (queen: string) => number;
  mostOfDroneMother?: (queen: string) => number;
  brood?: BroodOptions;
};

export type Allocation = { dams: { queen: string; share: number; queens: number }[]; allocation: Allotment[] };

/** Brood expected to live less than this is not proposed while there is any other way. */
const LEAST_VIABILITY = 0.75;
/** Brood below this counts against a cross. */
const GOOD_VIABILITY = 0.85;

/**
 * Whole queens by largest remainder, then a transportation problem: the cost of a cross is the inbreeding of its brood plus what its expected viability
 * lacks to 0.85; a cross expected below 0.75 only where nothing else is left.
 */
export function allocation(
  pedigree: Pedigree,
  { dams, droneMothers }: Contributions,
  options: AllocationOptions,
): Allocation {
  const { queens, drones = 10, mostOfDam = () => queens, mostOfDroneMother = () => queens } = options;
  const raised = wholeShares(
    dams.map((one) => one.share),
    queens,
    dams.map((one) => mostOfDam(one.queen)),
  );
  const served = wholeShares(
    droneMothers.map((one) => one.share),
    queens,
    droneMothers.map((one) => mostOfDroneMother(one.queen)),
  );
  const crosses = dams.map((dam) =>
    droneMothers.map(
      (mother): PlannedCross => ({ daughterOf: dam.queen, sources: [{ queen: mother.queen, share: 1, drones }] }),
    ),
  );
  const outlook = broodOutlook(pedigree, crosses.flat(), { draws: 2000, ...options.brood }).crosses ?? [];
  const at = (i: number, j: number) => outlook[i * droneMothers.length + j] ?? { inbreeding: 0, expectedViability: 1 };
  const cost = (i: number, j: number) => {
    const { inbreeding, expectedViability } = at(i, j);
    return (
      inbreeding + Math.max(0, GOOD_VIABILITY - expectedViability) + (expectedViability < LEAST_VIABILITY ? 1000 : 0)
    );
  };
  const flow = allocate({ supply: raised, demand: served, cost }) ?? [];
  const allotments = flow.flatMap((row, i) =>
    row.flatMap((count, j): Allotment[] => {
      const [dam, mother] = [dams[i], droneMothers[j]];
      if (count === 0 || dam === undefined || mother === undefined) return [];
      const { inbreeding, expectedViability } = at(i, j);
      return [
        {
          dam: dam.queen,
          droneMothers: [{ queen: mother.queen, share: 1 }],
          queens: count,
          inbreeding,
          expectedViability,
        },
      ];
    }),
  );
  return { dams: dams.map((dam, i) => ({ ...dam, queens: raised[i] ?? 0 })), allocation: allotments };
}
