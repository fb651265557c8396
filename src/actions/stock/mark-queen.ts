import { kinds } from '#records/kinds.ts';
import { action } from '../mechanism/action.ts';
import { creating, setting } from '../mechanism/recording.ts';

/** Marks a queen, or marks her anew: the mark she wore before ends. */
export const markQueen = action({
  name: 'mark-queen',
  place: 'stock',
  what: 'Mark a queen with a colour, a numbered disc or a clipped wing.',
  input: kinds.mark.entry,
  async run(mark, { book, newId, day }) {
    const worn = await book.find('mark', { queen: mark.queen, worn_to: null });
    const from = mark.worn_from ?? day;
    return {
      changes: [
        ...worn.map(({ id }) => setting('mark', id, { worn_to: from })),
        creating('mark', newId(), { ...mark, worn_from: from }),
      ],
      result: { queen: mark.queen },
    };
  },
});
