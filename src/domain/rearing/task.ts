import type { Day } from '#units/calendar-day.ts';

/** What can be due while queens and drones are raised for one insemination day. Its wording is kept by this key. */
export type TaskKey =
  | 'drone-comb-in'
  | 'drone-eggs'
  | 'drone-egg-check'
  | 'drone-brood-out'
  | 'drones-emerge'
  | 'starter'
  | 'graft'
  | 'nucs-ready'
  | 'cells-out'
  | 'virgins-emerge'
  | 'trial-eversion'
  | 'first-co2'
  | 'inseminate'
  | 'second-dose'
  | 'release'
  | 'release-check'
  | 'egg-check'
  | 'egg-check-2'
  | 'egg-check-3'
  | 'excluder-off'
  | 'brood-check'
  | 'own-workers';

/**
 * One thing due on a day, or in a window of days `from` … `to` (then `day` is `from`). For a one-day task all three are equal.
 * `values` are what its sentence needs: `fromI` is the number of days from insemination day to `day`, negative before it.
 */
export type Task = {
  key: TaskKey;
  day: Day;
  from: Day;
  to: Day;
  values: Readonly<Record<string, number>>;
};
