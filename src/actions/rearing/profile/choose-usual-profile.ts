import { z } from 'zod';
import { shippedProfiles } from '#domain/rearing/profiles.ts';
import { gatherProfiles, namedIn, USUAL_PROFILE } from '#gather/profiles.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../../mechanism/action.ts';
import { creating, setting } from '../../mechanism/recording.ts';
import { nameShape } from './shapes.ts';

/** Says which profile holds for every cross that names none. Tasks that are written already move when their cross is counted again. */
export const chooseUsualProfile = action({
  name: 'choose-usual-profile',
  place: 'rearing',
  what: 'Say which set of times and losses holds for every cross that names none.',
  input: z.strictObject({ profile: nameShape }),
  async run({ profile }, { book, newId }) {
    const profiles = await gatherProfiles(book);
    const found = namedIn(profiles, profile);
    const names = [...profiles.own.map((own) => own.profile.name), ...shippedProfiles.map(({ name }) => name)];
    if (found === null)
      return {
        changes: [],
        result: null,
        problems: [refuse('profile', 'unknown-profile', { profile, known: names.join(', ') })],
      };
    const value = found.profile.name;
    const [kept] = await book.find('setting', { name: USUAL_PROFILE });
    const change =
      kept === undefined
        ? creating('setting', newId(), { name: USUAL_PROFILE, value })
        : setting('setting', kept.id, { value });
    return { changes: [change], result: { profile: value } };
  },
});
