import { type Conditions, underConditions } from '#domain/rearing/conditions.ts';
import type { BiologyProfile } from '#domain/rearing/profile.ts';
import { withFigures } from '#domain/rearing/profile-figures.ts';
import { profileNamed } from '#domain/rearing/profiles.ts';
import { standardText } from '#domain/rearing/standard-text.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';

export const profileReads = ['biology_profile', 'biology_figure', 'setting'] as const satisfies readonly KindName[];

/** The setting that names the profile of every cross that names none. */
export const USUAL_PROFILE = 'usual-profile';

/** A profile of the book: what it says, under which conditions it was made, and its record (`null` for one that ships). */
export type NamedProfile = { id: RecordId | null; profile: BiologyProfile; conditions: Conditions };

/** The breeder's own profiles, and the one that holds where none is named. */
export type ProfileBook = { own: readonly NamedProfile[]; usual: NamedProfile };

const shipped = (profile: BiologyProfile): NamedProfile => ({ id: null, profile, conditions: {} });

/** What holds in a book without own profiles. */
export const shippedBook: ProfileBook = { own: [], usual: shipped(standardText) };

/** Larval age and warmth where they are written down. */
export const conditionsOf = (row: { larva_age_hours: number | null; brood_celsius: number | null }): Conditions => ({
  ...(row.larva_age_hours === null ? {} : { larvalAgeHours: row.larva_age_hours }),
  ...(row.brood_celsius === null ? {} : { temperature: row.brood_celsius }),
});

function ownProfile(row: Row<'biology_profile'>, figures: readonly Row<'biology_figure'>[]): NamedProfile {
  const base = profileNamed(row.based_on) ?? standardText;
  const own = figures.map(({ figure, value, low, high, source }) => ({
    key: figure,
    value,
    low,
    high,
    source: source ?? row.name,
  }));
  return { id: row.id, profile: withFigures(base, row.name, own), conditions: conditionsOf(row) };
}

/** A profile of the book by its name; `null` when there is none. */
export function namedIn({ own }: ProfileBook, name: string): NamedProfile | null {
  const mine = own.find(({ profile }) => profile.name === name);
  const known = profileNamed(name);
  return mine ?? (known === null ? null : shipped(known));
}

/** Reads the breeder's own profiles and which one is usual. */
export async function gatherProfiles(facts: Facts): Promise<ProfileBook> {
  const figures = groupBy(await facts.find('biology_figure'), ({ profile }) => profile);
  const own = (await facts.find('biology_profile')).map((row) => ownProfile(row, figures.get(row.id) ?? []));
  const [usual] = await facts.find('setting', { name: USUAL_PROFILE });
  const book = { own, usual: shippedBook.usual };
  return { own, usual: (usual === undefined ? null : namedIn(book, usual.value)) ?? shippedBook.usual };
}

/** What of a cross says which profile holds for it. */
export type ProfileFields = Pick<Row<'cross'>, 'profile' | 'larva_age_hours' | 'brood_celsius'>;

/**
 * The profile a cross is planned with: the one it names, else the usual one; moved by its own larval age and warmth, or, where it says nothing of them, by
 * those of the profile.
 */
export function profileFor(cross: ProfileFields, book: ProfileBook): BiologyProfile {
  const { profile, conditions } = (cross.profile === null ? null : namedIn(book, cross.profile)) ?? book.usual;
  return underConditions(profile, { ...conditions, ...conditionsOf(cross) });
}
