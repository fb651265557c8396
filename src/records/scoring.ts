import { amount, count, day, moment, needed, oneOf, ref, text } from './field.ts';
import { kind } from './kind.ts';

/** What the weather was while colonies were judged. */
export const weathers = ['sunny', 'cloudy', 'windy', 'hot', 'cold', 'thundery', 'rainy'] as const;

/** One person in one yard on one day, judging its colonies. */
export const visit = kind('visit', {
  yard: ref('yard'),
  day: needed(day()),
  person: ref('person'),
  weather: oneOf(...weathers),
  temperature_c: amount(),
  /** Whether nectar came in: bees without it are worse tempered. */
  flow: oneOf('none', 'some', 'strong'),
  words: text(),
});

/** How a trait was read. `season` is one value for a whole year, from a table. */
export const methods = [
  'pin',
  'freeze',
  'wash',
  'sugar',
  'fall',
  'weighed',
  'before-winter',
  'after-winter',
  'season',
] as const;

/** Why a colony was not judged. Not judged is not 0. */
export const reasonsNotJudged = ['weather', 'too-weak', 'no-time', 'queen-unsure', 'not-said'] as const;

/**
 * A trait read on a colony. Whose result it is is worked out (turnover); a person may judge it. `value` null with a reason is
 * "not judged"; null without one is a test begun and not read yet (cells pierced today, counted tomorrow).
 */
export const score = kind('score', {
  colony: ref('colony'),
  queen: ref('queen'),
  /** Where it was read, when the colony does not say. */
  yard: ref('yard'),
  visit: ref('visit'),
  trait: needed(text()),
  value: amount(),
  unit: text(),
  method: oneOf(...methods),
  not_judged: oneOf(...reasonsNotJudged),
  /** What was counted, and among how many: cells emptied of cells capped, mites among bees, empty cells among cells. */
  counted: count(),
  among: count(),
  /** Cells that were empty before the test began. */
  empty_before: count(),
  /** Hours from the beginning of a test to its reading. */
  hours: amount(),
  span_from: day(),
  day: needed(day()),
  person: ref('person'),
  judged_hers: oneOf('wholly', 'partly', 'not'),
});

/** Something worked out from the records and kept, with all that is needed to work it out again, bit for bit. */
export const run = kind('run', {
  what: needed(oneOf('worth', 'variances')),
  day: needed(day()),
  done: moment(),
  person: ref('person'),
  /** Version of the program that worked it out. */
  version: needed(text()),
  /** Traits, effects, variances and options, as JSON text. */
  parameters: needed(text()),
  /** SHA-256 over descent, records and parameters in a fixed order. */
  fingerprint: needed(text()),
  /** SHA-256 of the answer. */
  answer_fingerprint: needed(text()),
  seed: needed(count()),
  /** Content hashes of the kept input and answer. */
  input: needed(text()),
  answer: needed(text()),
  words: text(),
});
