import { amount, count, day, flag, needed, ref, share, text } from './field.ts';
import { kind } from './kind.ts';

/** A season as it is wished for: when it is, how sure it is to be, and what is scarce in it. What is not limited is left open. */
export const season = kind('season', {
  name: needed(text()),
  from_on: needed(day()),
  to_on: needed(day()),
  /** Chance with which each graft and each comb is to suffice. */
  sure: share(),
  /** Cells in all starters and finishers together, and for how many days from the graft. */
  cells: count(),
  cell_days: count(),
  incubator_places: count(),
  nucs: count(),
  /** Days a nuc is held after insemination. */
  nuc_days: count(),
  /** Drone combs in the nest of one mother at one time. */
  combs_per_mother: count(),
  operators: count(),
  queens_per_operator: count(),
  /** At most one yard away from home on one day. */
  one_yard: flag(),
  /** Queens one visit saved is worth. */
  visit_worth: amount(),
  /** What a repair of a day costs, in queens a breeder would give up to be spared it. */
  repair_graft: amount(),
  repair_larva: amount(),
  repair_drones: amount(),
  repair_day: amount(),
  repair_queen: amount(),
});

/** Days nobody can work. */
export const dayOff = kind('day_off', { from_on: needed(day()), to_on: needed(day()), why: text() });

/** A bar still to be grafted (or grafted by now, `graft`) for one cross or several of the same dam. */
export const plannedGraft = kind('planned_graft', {
  dam: needed(ref('queen')),
  day: needed(day()),
  larvae: needed(count()),
  graft: ref('graft'),
  cancelled: flag(),
});

/** That so many queens of a planned graft are meant for a cross. */
export const plannedGraftUse = kind('planned_graft_use', {
  planned_graft: needed(ref('planned_graft')),
  cross: needed(ref('cross')),
  queens: needed(count()),
});

/** Drone combs of one mother (or of a line or group, any of whose queens may be taken) to be hung in on a day, for one cross or several. */
export const plannedComb = kind('planned_comb', {
  mother: ref('queen'),
  sister_group: ref('sister_group'),
  line: ref('line'),
  in_on: needed(day()),
  combs: needed(count()),
  drone_comb: ref('drone_comb'),
  cancelled: flag(),
});

/** That a part of a planned comb's drones is meant for a cross; `combs` in combs. */
export const plannedCombUse = kind('planned_comb_use', {
  planned_comb: needed(ref('planned_comb')),
  cross: needed(ref('cross')),
  combs: amount(),
});

/** A breeder's own set of times, losses and volumes: what it is based on, and what it changes. */
export const biologyProfile = kind('biology_profile', {
  name: needed(text()),
  based_on: needed(text()),
  larva_age_hours: amount(),
  brood_celsius: amount(),
});

/** One figure of a breeder's own profile, with its range and what it rests on. */
export const biologyFigure = kind('biology_figure', {
  profile: needed(ref('biology_profile')),
  figure: needed(text()),
  value: needed(amount()),
  low: needed(amount()),
  high: needed(amount()),
  /** Learned from records, and from which; else a person's own word. */
  learned: flag(),
  source: text(),
});
