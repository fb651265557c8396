import { z } from 'zod';
import { dayShape, idShape } from '#records/field.ts';
import { action } from '../mechanism/action.ts';
import { setting } from '../mechanism/recording.ts';
import { doneForAll } from './cross-releases.ts';

const input = z.strictObject({ queens: z.array(idShape).min(1).max(500), day: dayShape.optional() });

/** Takes the excluder off the entrance of some queens' nucs. The task of a cross is done with the last of its excluders. */
export const takeExcluderOff = action({
  name: 'take-excluder-off',
  place: 'yard',
  what: 'Take the excluder off the entrance of a nuc, once eggs are seen.',
  input,
  async run({ queens, day }, { book, day: today }) {
    const on = day ?? today;
    const rows = await book.find('introduction', { queen: queens, excluder: 1, excluder_off: null });
    const off = rows.map(({ id }) => setting('introduction', id, { excluder_off: on }));
    const still = await book.find('introduction', { excluder: 1, excluder_off: null });
    const stillOn = new Set(still.map(({ queen }) => queen).filter((queen) => !queens.includes(queen)));
    const isSettled = (queen: (typeof queens)[number]) => !stillOn.has(queen);
    const done = await doneForAll(book, { queens, key: 'excluder-off', isSettled, on });
    return { changes: [...off, ...done], result: { queens } };
  },
});
