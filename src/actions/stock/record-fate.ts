import { kinds } from '#records/kinds.ts';
import { action } from '../mechanism/action.ts';
import { creating, setting } from '../mechanism/recording.ts';

/** Writes down how a queen's story ended. Her stays end with it, and the mark she wore. */
export const recordFate = action({
  name: 'record-fate',
  place: 'yard',
  what: "Write down how a queen's story ended: died, lost, superseded, drone layer, sold, culled, given, sampled.",
  input: kinds.fate.entry,
  async run(fate, { book, newId, day }) {
    const on = fate.happened_on ?? day;
    const latest = fate.happened_latest ?? on;
    const stays = await book.find('stay', { queen: fate.queen, to_latest: null, to_earliest: null });
    const id = newId();
    return {
      changes: [
        creating('fate', id, { ...fate, happened_on: on, happened_latest: latest }),
        ...stays.map((stay) => setting('stay', stay.id, { to_earliest: on, to_latest: latest })),
      ],
      result: { id },
    };
  },
});
