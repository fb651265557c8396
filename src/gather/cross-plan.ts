import type { BiologyProfile } from '#domain/rearing/profile.ts';
import type { Wish } from '#domain/rearing/wish.ts';
import type { KindName, Row } from '#records/kinds.ts';
import { type ProfileBook, type ProfileFields, profileFor, profileReads } from './profiles.ts';

/** The kinds a planned cross is written down in, and the profiles its days are counted by. */
export const crossReads = [
  ...profileReads,
  'cross',
  'cross_dam',
  'cross_drone_source',
  'cross_stand_in',
] as const satisfies readonly KindName[];

/** What of a cross the days are counted from. */
export type WishFields = ProfileFields &
  Pick<
    Row<'cross'>,
    'inseminate_on' | 'queens_wanted' | 'queen_age' | 'drone_age_from' | 'drone_age_to' | 'doses' | 'hold_days'
  >;

/** The profile a cross is planned with. */
export const profileOf = (cross: ProfileFields, profiles: ProfileBook): BiologyProfile => profileFor(cross, profiles);

/** A cross as the wish its days are counted back from; `null` while it has no day. What is left open comes from its profile. */
export function wishOf(cross: WishFields, profiles: ProfileBook): Wish | null {
  if (cross.inseminate_on === null) return null;
  const profile = profileOf(cross, profiles);
  const { from, to } = profile.usual.droneAge;
  const droneAge = { from: cross.drone_age_from ?? from, to: cross.drone_age_to ?? to };
  return {
    inseminate: cross.inseminate_on,
    queens: cross.queens_wanted,
    profile,
    droneAge,
    queenAge: cross.queen_age ?? profile.usual.queenAge,
    holdDays: cross.hold_days ?? profile.usual.holdDays,
    ...(cross.doses === null ? {} : { doses: cross.doses as 1 | 2 }),
  };
}
