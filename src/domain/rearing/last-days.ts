import { addDays, type Day } from '#units/calendar-day.ts';
import type { BiologyProfile } from './profile.ts';

/** The last days on which something begun can still be of any use on an insemination day. */
export type LastDays = {
  /** A graft: queens out as soon as they ever are, and just old enough. */
  graft: Day;
  /** Drone eggs: drones out as soon as they ever are, and just old enough. */
  laid: Day;
};

/**
 * The last useful graft (I − youngest usable queen − shortest time from graft to emergence) and the last useful drone eggs (I − youngest usable drone − shortest
 * time from egg to drone). What begins later is not of age on the day, whoever is lucky.
 * @example lastDays(day('2027-06-12'), standardText) // graft 27 May (5 + 11 days), eggs 8 May (12 + 23 days)
 */
export function lastDays(inseminate: Day, { timings, queens, drones }: BiologyProfile): LastDays {
  return {
    graft: addDays(inseminate, -queens.hard.from - timings.graftToEmergence.low),
    laid: addDays(inseminate, -drones.hard.from - timings.droneEggToEmergence.low),
  };
}
