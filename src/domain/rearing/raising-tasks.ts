import { addDays, type Day } from '#units/calendar-day.ts';
import { countBack } from './count-back.ts';
import type { BiologyProfile } from './profile.ts';
import type { Task, TaskKey } from './task.ts';

/** Tasks of raising drones from one comb, in order. */
export const COMB_KEYS: ReadonlySet<string> = new Set<TaskKey>([
  'drone-comb-in',
  'drone-eggs',
  'drone-egg-check',
  'drone-brood-out',
  'drones-emerge',
]);

/** Tasks of raising queens from one graft, in order. */
export const GRAFT_KEYS: ReadonlySet<string> = new Set<TaskKey>([
  'starter',
  'graft',
  'nucs-ready',
  'cells-out',
  'virgins-emerge',
]);

const tasksBefore = (inseminate: Day, profile: BiologyProfile, keys: ReadonlySet<string>): Task[] =>
  countBack({ inseminate, queens: 1, profile }).filter(({ key }) => keys.has(key));

/**
 * The tasks of one graft on a day, from making up the starter to the virgins out of their cells, by the timings of the profile.
 * @example graftTasks(day('2027-05-23'), standardText)[4] // virgins emerge on 2027-06-04
 */
export function graftTasks(grafted: Day, profile: BiologyProfile): Task[] {
  const { timings, usual } = profile;
  return tasksBefore(addDays(grafted, timings.graftToEmergence.value + usual.queenAge), profile, GRAFT_KEYS);
}

/**
 * The tasks of one drone comb hung in on a day, from the comb to its drones out of their cells. Eggs are laid over as many days as the usual window of
 * drone ages is long.
 */
export function combTasks(hung: Day, profile: BiologyProfile): Task[] {
  const { timings, usual } = profile;
  const before = timings.combLead.value + timings.droneEggToEmergence.value + usual.droneAge.to;
  return tasksBefore(addDays(hung, before), profile, COMB_KEYS);
}
