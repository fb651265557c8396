import { z } from 'zod';
import { profileNamed, shippedProfiles } from '#domain/rearing/profiles.ts';
import { USUAL_PROFILE } from '#gather/profiles.ts';
import type { Book, Change } from '#ports/store.ts';
import { idShape } from '#records/field.ts';
import { type Problem, refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { action, type Written } from '../../mechanism/action.ts';
import { creating, setting } from '../../mechanism/recording.ts';
import { nameProblems } from './check-profile.ts';
import { nameShape } from './shapes.ts';

const input = z.strictObject({
  /** The profile to change; a new one without it. */
  profile: idShape.optional(),
  name: nameShape,
  /** The shipped profile a new one begins from. */
  based_on: nameShape.optional(),
  /** Larvae are grafted at this age, in hours; as usual without it. */
  larva_age_hours: z.number().min(1).max(96).nullable().optional(),
  /** Brood and cells are kept at this warmth, in °C; as usual without it. */
  brood_celsius: z.number().min(30).max(38).nullable().optional(),
});

const no = (problem: Problem): Written<{ id: RecordId }> => ({
  changes: [],
  result: { id: null as never },
  problems: [problem],
});

/** Crosses and the setting that name a profile by its old name. */
async function renamed(book: Book, before: string, name: string): Promise<Change[]> {
  if (before === name) return [];
  const crosses = await book.find('cross', { profile: before });
  const usual = await book.find('setting', { name: USUAL_PROFILE, value: before });
  return [
    ...crosses.map(({ id }) => setting('cross', id, { profile: name })),
    ...usual.map(({ id }) => setting('setting', id, { value: name })),
  ];
}

/** Makes a profile of one's own from one that ships, or changes its name and conditions. Crosses that name it follow. */
export const keepProfile = action({
  name: 'keep-profile',
  place: 'rearing',
  what: 'Make a set of times and losses of your own from one that ships, or change its name, larval age and warmth.',
  input,
  async run(given, { book, newId }): Promise<Written<{ id: RecordId }>> {
    const { profile, name, based_on, larva_age_hours, brood_celsius } = given;
    const problems = await nameProblems(book, name, profile ?? null);
    if (problems.length > 0) return { ...no(problems[0] as Problem), problems };
    const conditions = {
      ...(larva_age_hours === undefined ? {} : { larva_age_hours }),
      ...(brood_celsius === undefined ? {} : { brood_celsius }),
    };
    if (profile !== undefined) {
      const row = await book.get('biology_profile', profile);
      if (row === null) return no(refuse('profile', 'unknown-record', { kind: 'biology_profile', id: profile }));
      const changes = [
        setting('biology_profile', profile, { name, ...conditions }),
        ...(await renamed(book, row.name, name)),
      ];
      return { changes, result: { id: profile } };
    }
    const base = profileNamed(based_on ?? 'standard-text');
    const known = shippedProfiles.map((one) => one.name).join(', ');
    if (base === null) return no(refuse('based_on', 'unknown-profile', { profile: based_on ?? '', known }));
    const id = newId();
    return { changes: [creating('biology_profile', id, { name, based_on: base.name, ...conditions })], result: { id } };
  },
});
