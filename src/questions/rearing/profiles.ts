import { z } from 'zod';
import type { Conditions } from '#domain/rearing/conditions.ts';
import { type LearnedFigure, learnedFigures, type OwnRecords } from '#domain/rearing/own-records.ts';
import type { BiologyProfile } from '#domain/rearing/profile.ts';
import { profileNamed, shippedProfiles } from '#domain/rearing/profiles.ts';
import { gatherOwnRecords, ownRecordReads } from '#gather/own-records.ts';
import { gatherProfiles, profileReads } from '#gather/profiles.ts';
import { dayShape } from '#records/field.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { type Question, question } from '../mechanism/question.ts';

const input = z.strictObject({
  today: dayShape,
  /** The profile looked at, by its name; the usual one without it. */
  profile: z.string().max(100).optional(),
});

/** One profile of the book. `base`: the one it was made from, and `own` the figures it sets itself; both empty for one that ships. */
export type ProfileLine = {
  id: RecordId | null;
  profile: BiologyProfile;
  base: BiologyProfile | null;
  own: readonly string[];
  conditions: Conditions;
  /** Codes of crosses that name it. */
  crosses: readonly string[];
};

/** Every profile, which one is usual, the one looked at, and what one's own records say beside it. */
export type ProfilesAnswer = {
  profiles: ProfileLine[];
  usual: string;
  chosen: ProfileLine;
  learned: LearnedFigure[];
};

type Gathered = Omit<ProfilesAnswer, 'learned' | 'chosen'> & { records: OwnRecords };

/** The profiles of timings and losses, and what one's own records say beside each figure. */
export const profilesQuestion: Question<z.infer<typeof input>, Gathered, ProfilesAnswer> = question({
  name: 'profiles',
  what: 'Sets of times and losses: those that ship, your own, which one is usual, and what your records say beside each figure.',
  input,
  reads: [...profileReads, ...ownRecordReads],
  async gather({ today }, facts) {
    const book = await gatherProfiles(facts);
    const figures = groupBy(await facts.find('biology_figure'), ({ profile }) => profile);
    const rows = new Map((await facts.find('biology_profile')).map((row) => [row.id, row]));
    const naming = groupBy(
      (await facts.find('cross')).filter(({ cancelled }) => cancelled !== 1),
      ({ profile }) => profile ?? '',
    );
    const crossesOf = (name: string) => (naming.get(name) ?? []).map(({ code }) => code);
    const shipped = shippedProfiles.map(
      (profile): ProfileLine => ({
        id: null,
        profile,
        base: null,
        own: [],
        conditions: {},
        crosses: crossesOf(profile.name),
      }),
    );
    const own = book.own.flatMap(({ id, profile, conditions }): ProfileLine[] => {
      const row = id === null ? undefined : rows.get(id);
      if (row === undefined) return [];
      const set = (figures.get(row.id) ?? []).map(({ figure }) => figure);
      return [
        { id, profile, base: profileNamed(row.based_on), own: set, conditions, crosses: crossesOf(profile.name) },
      ];
    });
    return {
      profiles: [...shipped, ...own],
      usual: book.usual.profile.name,
      records: await gatherOwnRecords(facts, today),
    };
  },
  answer({ profiles, usual, records }, { profile: asked }) {
    const named = (name: string | undefined) => profiles.find(({ profile }) => profile.name === name);
    const chosen = named(asked) ?? named(usual) ?? profiles[0];
    if (chosen === undefined) throw new Error('no profile ships');
    return { profiles, usual, chosen, learned: learnedFigures(chosen.base ?? chosen.profile, records) };
  },
});
