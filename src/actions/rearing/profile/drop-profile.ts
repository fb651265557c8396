import { z } from 'zod';
import { USUAL_PROFILE } from '#gather/profiles.ts';
import { idShape } from '#records/field.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../../mechanism/action.ts';
import { dropping } from '../../mechanism/recording.ts';

/** Takes a profile of one's own away with its figures, while no cross names it and it is not the usual one. */
export const dropProfile = action({
  name: 'drop-profile',
  place: 'rearing',
  what: 'Take away a set of times and losses of your own that no cross names.',
  input: z.strictObject({ profile: idShape }),
  async run({ profile }, { book }) {
    const no = (code: string, values: Record<string, string>) => ({
      changes: [],
      result: null,
      problems: [refuse('profile', code, values)],
    });
    const row = await book.get('biology_profile', profile);
    if (row === null) return no('unknown-record', { kind: 'biology_profile', id: profile });
    const crosses = (await book.find('cross', { profile: row.name })).filter(({ cancelled }) => cancelled !== 1);
    if (crosses.length > 0)
      return no('profile-in-use', { profile: row.name, crosses: crosses.map(({ code }) => code).join(', ') });
    if ((await book.count('setting', { name: USUAL_PROFILE, value: row.name })) > 0)
      return no('profile-is-usual', { profile: row.name });
    const figures = await book.find('biology_figure', { profile });
    return {
      changes: [...figures.map(({ id }) => dropping('biology_figure', id)), dropping('biology_profile', profile)],
      result: { id: profile },
    };
  },
});
