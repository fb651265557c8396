import { amount, count, day, flag, microlitre, moment, needed, oneOf, ref, share, sure, text } from './field.ts';
import { kind } from './kind.ts';

/** A planned cross: who with whom, how many, when. Inseminations fulfil it. */
export const cross = kind('cross', {
  code: needed(text()),
  purpose: text(),
  queens_wanted: needed(count()),
  dose_ul: needed(microlitre()),
  doses: count(),
  drones: amount(),
  inseminate_on: day(),
  latest_on: day(),
  queen_age: count(),
  drone_age_from: count(),
  drone_age_to: count(),
  hold_days: count(),
  profile: text(),
  cancelled: flag(),
  /** First insemination day that would do, for the season plan; `latest_on` is the last. */
  earliest_on: day(),
  /** Worth of one of its queens beside those of other crosses; 1 where nothing is said. */
  worth: amount(),
  /** The season plan leaves its day alone. */
  keep_day: flag(),
  /** Hours since hatching of the larvae it is to be grafted with, and the warmth brood and cells are kept at, where they are not as usual. */
  larva_age_hours: amount(),
  brood_celsius: amount(),
});

export const crossDam = kind('cross_dam', { cross: needed(ref('cross')), queen: needed(ref('queen')) });

/** A drone mother (or a group or line standing in for one) of a cross, with her share of the semen. */
export const crossDroneSource = kind('cross_drone_source', {
  cross: needed(ref('cross')),
  queen: ref('queen'),
  sister_group: ref('sister_group'),
  line: ref('line'),
  share: share(),
});

export const crossStandIn = kind('cross_stand_in', {
  cross: needed(ref('cross')),
  queen: needed(ref('queen')),
  side: needed(oneOf('queen', 'drone')),
});

/** A day's work that comes from a plan or that a person set. Done by an act, never by a tick alone. */
export const task = kind('task', {
  cross: ref('cross'),
  key: needed(text()),
  words: text(),
  day: needed(day()),
  span_from: needed(day()),
  span_to: needed(day()),
  uid: needed(text()),
  sequence: needed(count()),
  yard: ref('yard'),
  /** Days a person moved it away from the day that was counted back; negative = earlier. It keeps them when the count moves. */
  by_hand: amount(),
  done_on: day(),
  cancelled: flag(),
  /** The planned bar or comb it belongs to, which may serve several crosses; then `cross` is empty. */
  planned_graft: ref('planned_graft'),
  planned_comb: ref('planned_comb'),
});

/** One bar of larvae, grafted at one time. */
export const graft = kind('graft', {
  code: needed(text()),
  day: needed(day()),
  moment: moment(),
  larva_age_hours: amount(),
  starter: ref('colony'),
  finisher: ref('colony'),
  cross: ref('cross'),
  larvae: count(),
});

/** Which dam's larvae stand in which positions of a bar. */
export const graftRange = kind('graft_range', {
  graft: needed(ref('graft')),
  position_from: needed(count()),
  position_to: needed(count()),
  dam: needed(ref('queen')),
  /** Accepted of these, where they were only counted and it is not known which. */
  accepted_count: count(),
});

/** One cell of a bar, from accepted to emerged. */
export const graftCell = kind('graft_cell', {
  graft: needed(ref('graft')),
  position: needed(count()),
  accepted: flag(),
  sealed_on: day(),
  out_on: day(),
  emerged_on: day(),
  given_to: text(),
  lost: flag(),
});

/** One comb of drone brood of one mother: two mothers are two records. */
export const droneComb = kind('drone_comb', {
  code: needed(text()),
  mother: ref('queen'),
  mother_sure: sure(),
  colony: ref('colony'),
  holder: ref('colony'),
  in_on: day(),
  laid_from: day(),
  laid_to: day(),
  emerged_from: day(),
  emerged_to: day(),
  marked_how: text(),
  cross: ref('cross'),
  /** What was counted: cells laid, drones that emerged, drones seen alive on a day. */
  laid_cells: count(),
  emerged_count: count(),
  alive_count: count(),
  alive_on: day(),
});

/** A place where queens mate by themselves, and what stood there in a season. */
export const matingPlace = kind('mating_place', { name: needed(text()) });
export const matingSeason = kind('mating_season', {
  place: needed(ref('mating_place')),
  year: needed(count()),
  stood_from: day(),
  stood_to: day(),
  trusted: sure(),
});
export const matingSeasonSource = kind('mating_season_source', {
  season: needed(ref('mating_season')),
  queen: ref('queen'),
  sister_group: ref('sister_group'),
});

/** A queen who mated by herself, or may have (`suspected`, with the share of her sperm the breeder puts on it). */
export const naturalMating = kind('natural_mating', {
  queen: needed(ref('queen')),
  season: ref('mating_season'),
  flew_from: day(),
  flew_to: day(),
  drones: amount(),
  suspected: flag(),
  share: share(),
});

/** What a seller says a queen was inseminated with; one row a source. */
export const poolWord = kind('pool_word', {
  queen: needed(ref('queen')),
  mother: ref('queen'),
  sister_group: ref('sister_group'),
  line: ref('line'),
  share: share(),
  alternative: flag(),
  drones: amount(),
  said_on: day(),
  said_by: text(),
});
