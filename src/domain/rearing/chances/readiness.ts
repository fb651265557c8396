import { addCounts, type CountChances, countAtLeast, meanCount } from '#numeric/chance/count-chances.ts';
import { known } from '#numeric/chance/count-steps.ts';
import { chanceOfSemen, meanSemen, type SemenSupply } from './semen-supply.ts';

/** One thing that must suffice on an insemination day. */
export type Link = {
  side: 'queens' | 'drones';
  /** The queen mother or drone mother. */
  mother: string;
  wanted: number;
  /** Queens, or µl. */
  expected: number;
  chance: number;
};

/** What must suffice: queens of one mother from any number of grafts, or µl of one drone mother. */
export type QueenNeed = { mother: string; queens: number; grafts: readonly CountChances[] };
export type DroneNeed = { mother: string; microlitres: number; supply: SemenSupply };

/** The readiness of a day: the chance that all of it suffices, and the link that will give first. */
export type Readiness = { chance: number; links: Link[]; weakest: Link | null };

function queenLink({ mother, queens, grafts }: QueenNeed): Link {
  const ready = grafts.reduce(addCounts, known(0));
  return { side: 'queens', mother, wanted: queens, expected: meanCount(ready), chance: countAtLeast(queens, ready) };
}

const droneLink = ({ mother, microlitres, supply }: DroneNeed): Link => ({
  side: 'drones',
  mother,
  wanted: microlitres,
  expected: meanSemen(supply),
  chance: chanceOfSemen(microlitres, supply),
});

/**
 * The probability that both sexes suffice on one day, taking mothers as independent of each other, and which link is weakest. Without needs the day
 * is ready.
 */
export function readinessOf(queens: readonly QueenNeed[], drones: readonly DroneNeed[]): Readiness {
  const links = [...queens.map(queenLink), ...drones.map(droneLink)];
  const weakest = links.reduce<Link | null>(
    (least, link) => (least === null || link.chance < least.chance ? link : least),
    null,
  );
  return { chance: links.reduce((product, { chance }) => product * chance, 1), links, weakest };
}
