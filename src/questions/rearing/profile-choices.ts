import { z } from 'zod';
import type { Conditions } from '#domain/rearing/conditions.ts';
import type { BiologyProfile } from '#domain/rearing/profile.ts';
import { shippedProfiles } from '#domain/rearing/profiles.ts';
import { gatherProfiles, type ProfileBook, profileReads } from '#gather/profiles.ts';
import { type Question, question } from '../mechanism/question.ts';

/** The sets of times and losses a cross can name, with the conditions they were made under, and the one that holds where it names none. */
export type ProfileChoices = { profiles: { profile: BiologyProfile; conditions: Conditions }[]; usual: string };

/** The sets of times and losses to choose from. */
export const profileChoices: Question<Record<string, never>, ProfileBook, ProfileChoices> = question({
  name: 'profile-choices',
  what: 'Sets of times and losses a cross can be counted with, and which one is usual.',
  input: z.strictObject({}),
  reads: profileReads,
  gather: (_, facts) => gatherProfiles(facts),
  answer: ({ own, usual }) => ({
    profiles: [
      ...shippedProfiles.map((profile) => ({ profile, conditions: {} })),
      ...own.map(({ profile, conditions }) => ({ profile, conditions })),
    ],
    usual: usual.profile.name,
  }),
});
