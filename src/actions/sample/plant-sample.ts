import { z } from 'zod';
import { refuse } from '#units/problem.ts';
import { takeBack } from '../history/step-back.ts';
import { action } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';
import { doingIn } from './doing.ts';
import { plantLastSeason } from './last-season.ts';
import { plantOlderQueens } from './older-queens.ts';
import { SAMPLE } from './sample-stands.ts';
import { plantScores } from './scores.ts';
import { plantStation } from './station.ts';
import { plantThisSeason } from './this-season.ts';

const nothing = z.strictObject({});

/**
 * Writes down a made-up stock to look around in: an invented station, two lines, sixty queens, a full year. Only into an
 * empty book: while it stands everything written belongs to it, so it never mixes with a breeder's own.
 */
export const plantSample = action({
  name: 'plant-sample',
  place: 'edge',
  what: 'Write down a made-up stock to look around in; only into an empty book, and taken away by one act.',
  input: nothing,
  async run(_, circumstances) {
    const { book, newId } = circumstances;
    if ((await book.count('queen')) > 0 || (await book.count('colony')) > 0)
      return {
        changes: [],
        result: null,
        problems: [refuse('', 'book-not-empty', { queens: await book.count('queen') })],
      };
    const id = newId();
    const doing = doingIn(circumstances);
    const station = await plantStation(doing);
    const older = await plantOlderQueens(doing, station);
    const last = await plantLastSeason(doing, station, older);
    await plantThisSeason(doing, station, older, last);
    await plantScores(doing, station, older, last);
    return { changes: [creating('setting', id, { name: SAMPLE, value: 'planted' })], result: { id } };
  },
});

/** Takes the made-up stock away, with everything written while it stood. The act steps back like any other. */
export const removeSample = action({
  name: 'remove-sample',
  place: 'edge',
  what: 'Take the made-up stock away, with everything written down while it stood.',
  input: nothing,
  async run(_, { book }) {
    const acts = await book.acts({});
    const planted = acts
      .filter(({ name, steppedBackBy }) => name === plantSample.name && steppedBackBy === null)
      .at(-1);
    if (planted === undefined) return { changes: [], result: null, problems: [refuse('', 'no-sample')] };
    // Every act since, also those that no longer stand: taken back together they leave the book as it was before.
    const since = acts.filter(({ seq }) => seq >= planted.seq).map(({ id }) => id);
    return takeBack(book, since, planted.id);
  },
});
