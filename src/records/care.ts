import { amount, count, day, flag, needed, oneOf, ref, text } from './field.ts';
import { kind } from './kind.ts';

/** A nursing cage or box: one act for thirty queens. */
export const care = kind('care', {
  form: needed(oneOf('cage', 'box', 'nuc')),
  care_from: needed(day()),
  care_to: day(),
  attendants: count(),
  attendants_ml: amount(),
  temperature_c: amount(),
  person: ref('person'),
});
export const careQueen = kind('care_queen', {
  care: needed(ref('care')),
  queen: needed(ref('queen')),
  cage: ref('cage'),
  found_dead: flag(),
});

/** The step where a fifth to a half are lost. */
export const introduction = kind('introduction', {
  queen: needed(ref('queen')),
  day: needed(day()),
  colony: ref('colony'),
  method: text(),
  accepted: flag(),
  /** An excluder was put on the entrance with her, and the day it came off again (not before eggs are seen). */
  excluder: flag(),
  excluder_off: day(),
});

/** What can be seen in a nuc. Laying means capped worker brood; a drone layer is a failure. */
export const sights = [
  'no-eggs',
  'eggs',
  'several-in-a-cell',
  'worker-caps',
  'drone-caps',
  'queen-cells',
  'another-queen',
  'queen-gone',
  'own-workers',
  'not-opened',
] as const;

export const layingCheck = kind('laying_check', {
  queen: ref('queen'),
  colony: ref('colony'),
  day: needed(day()),
  queen_seen: oneOf('seen', 'unmarked', 'other', 'not-seen'),
  cells_looked: count(),
  gaps: count(),
  person: ref('person'),
});
export const layingSight = kind('laying_sight', {
  laying_check: needed(ref('laying_check')),
  saw: needed(oneOf(...sights)),
});
