import { atLeast, leastTrials } from '#numeric/chance/binomial.ts';
import { type Problem, refuse } from '#units/problem.ts';
import { type Microlitre, microlitres } from '#units/volume.ts';

/** What a breeder asks of the drone side for one insemination day. */
export type DroneWish = {
  /** Queens to be inseminated, 1 or more. */
  queens: number;
  /** µl of semen a queen. */
  dose: number;
  /** Share of the semen taken on top for what stays behind, 0-1 and above. */
  reserve: number;
  /** µl from one drone that gives semen. */
  perDrone: number;
  /** Share of mature drones that give semen, above 0 to 1. */
  yielding: number;
  /** How sure, 0 to below 1. */
  sure: number;
};

/** Semen in µl, drones that must give, mature drones to have, and the chance that so many are enough. */
export type DronesNeeded = {
  semenMicrolitres: Microlitre;
  donors: number;
  matureDrones: number;
  probability: number;
};

export type DroneWishRefusal =
  | 'not-whole-number'
  | 'not-above-zero'
  | 'not-zero-or-more'
  | 'not-a-share'
  | 'never-sure';

/** Beyond this a count is a slip of the pen; it also keeps the search for the number short. */
const MOST_DRONES = 1e7;

/** Everything that makes the wish impossible; empty when {@link dronesNeeded} can answer. */
export function droneWishRefusals(wish: DroneWish): Problem<DroneWishRefusal>[] {
  const { queens, dose, reserve, perDrone, yielding, sure } = wish;
  const found: Problem<DroneWishRefusal>[] = [];
  const unless = (holds: boolean, path: keyof DroneWish, code: DroneWishRefusal) => {
    if (!holds) found.push(refuse(path, code, { found: wish[path] }));
  };
  unless(Number.isInteger(queens), 'queens', 'not-whole-number');
  if (Number.isInteger(queens)) unless(queens > 0, 'queens', 'not-above-zero');
  unless(dose > 0 && Number.isFinite(dose), 'dose', 'not-above-zero');
  unless(reserve >= 0 && Number.isFinite(reserve), 'reserve', 'not-zero-or-more');
  unless(perDrone > 0 && Number.isFinite(perDrone), 'perDrone', 'not-above-zero');
  unless(yielding > 0 && yielding <= 1, 'yielding', 'not-a-share');
  unless(sure >= 0 && sure <= 1, 'sure', 'not-a-share');
  if (sure === 1 && yielding < 1) found.push(refuse('sure', 'never-sure', { found: sure }));
  if (found.length === 0 && (queens * dose * (1 + reserve)) / (perDrone * yielding) > MOST_DRONES)
    found.push(refuse('queens', 'never-sure', { found: queens }));
  return found;
}

/**
 * How many mature drones to have on the day, so that enough of them give semen.
 *
 * Semen = queens × dose × (1 + reserve); donors = ⌈semen / per drone − 1e-9⌉ (the 1e-9 forgives rounding of decimals);
 * mature drones = least n with P(Binomial(n, yielding) >= donors) >= sure. Every yielding drone counts with the same volume;
 * drone-supply.ts lets volumes differ and counts the losses before maturity too. Throws when the wish is impossible.
 * @example dronesNeeded({ queens: 12, dose: 8, reserve: 0.1, perDrone: 1, yielding: 0.5, sure: 0.9 }).matureDrones // 231
 */
export function dronesNeeded(wish: DroneWish): DronesNeeded {
  const [refused] = droneWishRefusals(wish);
  if (refused) throw new RangeError(`impossible wish: ${refused.path} ${refused.code}`);
  const { yielding, sure } = wish;
  const semen = wish.queens * wish.dose * (1 + wish.reserve);
  const donors = Math.ceil(semen / wish.perDrone - 1e-9);
  const matureDrones = leastTrials({ k: donors, p: yielding, sure });
  return {
    semenMicrolitres: microlitres(semen),
    donors,
    matureDrones,
    probability: atLeast(donors, matureDrones, yielding),
  };
}
