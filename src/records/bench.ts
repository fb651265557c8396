import { exceptionKinds, notDoneReasons } from '#domain/insemination/exception.ts';
import { amount, count, day, flag, microlitre, moment, needed, oneOf, ref, share, text } from './field.ts';
import { kind } from './kind.ts';

export const salineBatch = kind('saline_batch', {
  code: needed(text()),
  recipe: text(),
  made_on: day(),
  made_by: ref('person'),
  /** The name of an antibiotic in it, or 'none'. Recorded, never advised. */
  antibiotic: text(),
});

/** One day at the microscope. Every bench record belongs to one. It may run past midnight. */
export const benchDay = kind('bench_day', {
  day: needed(day()),
  place: text(),
  zone: needed(text()),
  saline: ref('saline_batch'),
  gas_bottle: text(),
  operator: ref('person'),
  /** The number of the tip the day began with; each new tip counts on from it. */
  first_tip: count(),
  opened: moment(),
  closed: moment(),
});

/** The order in which virgins come to the bench, and for which cross. */
export const benchQueen = kind('bench_queen', {
  bench_day: needed(ref('bench_day')),
  cross: needed(ref('cross')),
  queen: needed(ref('queen')),
  place: needed(count()),
  cage: ref('cage'),
  /** The nuc she goes home to. */
  home: ref('colony'),
});

/** What went on around the queens of a bench day. `stop-…`: a pair that did not match was seen before the dose, and how it ended. */
export const benchEventKinds = [
  'tip',
  'capillary',
  'paused',
  'resumed',
  'stop-taken-away',
  'stop-passed',
  'set-out',
  'put-away',
] as const;
export const benchEvent = kind('bench_event', {
  bench_day: needed(ref('bench_day')),
  cross: ref('cross'),
  moment: needed(moment()),
  what: needed(oneOf(...benchEventKinds)),
  tip: count(),
  tube: ref('tube'),
  queen: ref('queen'),
  /** The label as it was presented; the item that was ticked. */
  words: text(),
  /** Why a STOP came about, said when the bench is put away. */
  reason: text(),
});

/** A capillary, a vial, or the tip itself. Its content is only ever the sum of its ledger. */
export const tube = kind('tube', {
  code: needed(text()),
  form: needed(oneOf('capillary', 'vial', 'tip')),
  bore_mm: amount(),
  slot: text(),
  stored_where: text(),
  temperature_c: amount(),
  /** What the breeder chose to assume where the ledger leaves it open. */
  mixing: oneOf('layered', 'stirred', 'homogenised'),
});

/** Drones taken for collection. */
export const droneCatch = kind('drone_catch', {
  code: text(),
  bench_day: ref('bench_day'),
  day: needed(day()),
  moment: moment(),
  taken: count(),
  left_over: count(),
  gave: count(),
  stranger_share: share(),
  age_from: count(),
  age_to: count(),
});

/** Whose drones a catch holds: a mother, or the colony they came from, or a comb; and how they were told apart. */
export const droneCatchSource = kind('drone_catch_source', {
  catch: needed(ref('drone_catch')),
  mother: ref('queen'),
  colony: ref('colony'),
  comb: ref('drone_comb'),
  sister_group: ref('sister_group'),
  share: share(),
  told_apart: text(),
});

/** Drones that gave nothing usable, by reason. */
export const droneCatchReason = kind('drone_catch_reason', {
  catch: needed(ref('drone_catch')),
  tube: ref('tube'),
  reason: needed(oneOf('faeces', 'mucus', 'bubble', 'immature', 'other')),
  count: needed(count()),
});

/** The steps a tube's ledger knows. */
export const ledgerSteps = [
  'collected',
  'drawn-over',
  'diluent',
  'stirred',
  'homogenised',
  'spun-off',
  'sealed',
  'frozen',
  'thawed',
  'dose',
  'lost',
  'broken',
  'sent',
  'received',
  're-measured',
  'withdrawn',
] as const;

/** One step in a tube's story. Never edited; corrected by a new line. */
export const ledgerLine = kind('ledger_line', {
  tube: needed(ref('tube')),
  place: needed(count()),
  step: needed(oneOf(...ledgerSteps)),
  moment: needed(moment()),
  person: ref('person'),
  volume_ul: microlitre(),
  semen_ul: microlitre(),
  drones: amount(),
  catch: ref('drone_catch'),
  /** Which drones of the catch, where they were told apart. */
  source: ref('drone_catch_source'),
  from_tube: ref('tube'),
  from_end: oneOf('filled', 'other'),
  end: oneOf('filled', 'other'),
  insemination: ref('insemination'),
  parcel: ref('parcel'),
  corrects: ref('ledger_line'),
  read_how: oneOf('scale', 'bore', 'eye'),
});

/** One insemination (a split dose is two), or one that was not done and why. */
export const insemination = kind('insemination', {
  queen: needed(ref('queen')),
  bench_day: ref('bench_day'),
  cross: ref('cross'),
  day: day(),
  moment: moment(),
  operator: ref('person'),
  tip: text(),
  tries: count(),
  given_ul: microlitre(),
  /** Effective drones, where no ledger tells (an older book, a seller). */
  drones: amount(),
  done: needed(flag()),
  not_done_why: oneOf(...notDoneReasons),
  /** The breeder says this one left no semen behind. */
  left_nothing: flag(),
  /** Closed when she went back in. */
  closed: moment(),
});

/**
 * What an insemination was given where no ledger tells: drone mothers with their shares. `alternative` rows are readings of
 * one doubtful source ("R-07 or R-09, rather R-07"), their shares the weights.
 */
export const inseminationSource = kind('insemination_source', {
  insemination: needed(ref('insemination')),
  queen: ref('queen'),
  sister_group: ref('sister_group'),
  line: ref('line'),
  share: share(),
  alternative: flag(),
});

export const inseminationException = kind('insemination_exception', {
  insemination: needed(ref('insemination')),
  kind: needed(oneOf(...exceptionKinds)),
  words: text(),
});

/** One act of carbon dioxide for one or many queens. */
export const co2Treatment = kind('co2_treatment', {
  moment: needed(moment()),
  minutes: amount(),
  relation: needed(oneOf('before', 'with', 'after')),
  bench_day: ref('bench_day'),
  person: ref('person'),
});
export const co2Queen = kind('co2_queen', { treatment: needed(ref('co2_treatment')), queen: needed(ref('queen')) });

/** A count, a colour, a volume read in the laboratory. */
export const labResult = kind('lab_result', {
  queen: ref('queen'),
  tube: ref('tube'),
  catch: ref('drone_catch'),
  day: day(),
  what: needed(text()),
  value: amount(),
  unit: text(),
  live: count(),
  dead: count(),
  colour: text(),
});

/** Something sent to or received from another breeder. */
export const parcel = kind('parcel', {
  direction: needed(oneOf('sent', 'received')),
  day: day(),
  other: ref('person'),
  what: text(),
  papers: text(),
});
