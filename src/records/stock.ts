import { amount, count, day, flag, needed, oneOf, ref, refToAny, share, sure, text } from './field.ts';
import { kind } from './kind.ts';

/** A helper, an operator, a partner: someone who did or owns something. Needs no account. */
export const person = kind('person', { name: needed(text()), erased: flag() });

/** A place where colonies stand. Its zone gives local days. */
export const yard = kind('yard', {
  name: needed(text()),
  zone: text(),
  walking_order: count(),
  distance_km: amount(),
});

/** A group of queens kept as one line. Members are named by the queens themselves. */
export const line = kind('line', { name: needed(text()), rule: text() });
export const lineFounder = kind('line_founder', { line: needed(ref('line')), queen: needed(ref('queen')) });

/** Sister queens not recorded one by one: a mating area's drone mothers, bought stock. */
export const sisterGroup = kind('sister_group', {
  code: needed(text()),
  dam: ref('queen'),
  dam_sure: sure(),
  size: needed(count()),
  year: count(),
  line: ref('line'),
});

/**
 * A queen: virgin, laying, drone mother alike (those are roles). `code` is the breeder's own word, empty until she has
 * one. `emerged` may be "about" (± `emerged_about` days). What she carries is never stored here: it is worked out.
 */
export const queen = kind('queen', {
  code: text(),
  emerged: day(),
  emerged_about: count(),
  emerged_sure: sure(),
  /** Calendar year of emergence when no day is known. */
  year: count(),
  dam: ref('queen'),
  dam_sure: sure(),
  cell: ref('graft_cell'),
  /** The cross she is meant for while she is a virgin, where that was said of her. */
  meant_for: ref('cross'),
  line: ref('line'),
  sister_group: ref('sister_group'),
  owner: ref('person'),
  keeper: ref('person'),
  origin: oneOf('bred', 'bought', 'given', 'caught', 'found'),
  came_on: day(),
});

/** A code a queen bore or bears elsewhere. Former codes stay findable. */
export const queenCode = kind('queen_code', {
  queen: needed(ref('queen')),
  code: needed(text()),
  borne_from: day(),
  borne_to: day(),
  given_by: text(),
});

/** The mark on her back. The expected colour is derived from her year; (colour, number) is not an identity. */
export const mark = kind('mark', {
  queen: needed(ref('queen')),
  colour: oneOf('white', 'yellow', 'red', 'green', 'blue', 'other', 'none'),
  disc: count(),
  clip: oneOf('left', 'right', 'none'),
  worn_from: day(),
  worn_to: day(),
  lost: flag(),
});

/** A body of bees. */
export const colony = kind('colony', {
  code: needed(text()),
  form: needed(oneOf('full', 'nuc', 'starter', 'finisher', 'bank', 'drone-holder')),
  since: day(),
  ended: day(),
  ended_how: oneOf('united', 'split', 'lost', 'dissolved', 'sold'),
  united_into: ref('colony'),
});

/** Where a colony stood, and its place in the walking order of the yard. */
export const colonyPlace = kind('colony_place', {
  colony: needed(ref('colony')),
  yard: needed(ref('yard')),
  stood_from: day(),
  stood_to: day(),
  spot: count(),
});

/** A permanently numbered cage. */
export const cage = kind('cage', { number: needed(text()) });

/** Which queen heads or sits in which colony or cage. Both ends may be spans (earliest … latest). */
export const stay = kind('stay', {
  queen: needed(ref('queen')),
  colony: ref('colony'),
  cage: ref('cage'),
  role: oneOf('heads', 'caged', 'banked'),
  from_earliest: day(),
  from_latest: day(),
  to_earliest: day(),
  to_latest: day(),
  why: text(),
});

/** Two queens found to have changed places. Everything recorded of one in the span is the other's. */
export const identityExchange = kind('identity_exchange', {
  one: needed(ref('queen')),
  other: needed(ref('queen')),
  exchanged_on: needed(day()),
  noticed_on: needed(day()),
  exchange_sure: sure(),
});

/** Nobody looked, or nobody wrote: survival is not invented for this span. No yard and no colony = everything. */
export const notWatched = kind('not_watched', {
  yard: ref('yard'),
  colony: ref('colony'),
  span_from: needed(day()),
  span_to: needed(day()),
});

/** A queen kept by somebody else for a time: the keeper changes, the owner does not. */
export const loan = kind('loan', {
  queen: needed(ref('queen')),
  lent_to: needed(ref('person')),
  lent_on: day(),
  back_on: day(),
});

/** How a queen's story ended. Sold, given and sampled are not losses. The day may be a span. */
export const fate = kind('fate', {
  queen: needed(ref('queen')),
  kind: needed(
    oneOf('died', 'lost', 'superseded', 'drone-layer', 'culled', 'sold', 'given', 'sampled', 'swarmed', 'not-taken'),
  ),
  happened_on: day(),
  happened_latest: day(),
  cause: text(),
  cause_sure: sure(),
});

/** One reading of a doubtful fact, with its weight: "R-07 or R-09, rather R-07" are two rows. */
export const guess = kind('guess', {
  about_kind: needed(text()),
  about: needed(refToAny()),
  field: needed(text()),
  value: needed(text()),
  weight: share(),
  by: text(),
});
