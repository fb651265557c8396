import { z } from 'zod';
import { gatherNames } from '#gather/names.ts';
import type { Book } from '#ports/store.ts';
import { idShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import { type Problem, refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { dropping, setting } from '../mechanism/recording.ts';
import { leavingPlace } from './correct-mating-season.ts';

const input = z.strictObject({
  season: idShape,
  /** The queens who flew there stay mated, at no place: their drones then count as unrelated strangers. */
  flights_stay_open: z.boolean().optional(),
});

/** Queens named one by one before the rest is counted. */
const MOST_NAMED = 3;

async function restingOn(book: Book, flights: readonly Row<'natural_mating'>[]): Promise<Problem[]> {
  const nameOf = await gatherNames(book);
  const queens = [...new Set(flights.map(({ queen }) => queen))];
  return [
    refuse('season', 'season-flown-to', {
      n: queens.length,
      queens: queens.slice(0, MOST_NAMED).map(nameOf).join(', '),
      more: Math.max(0, queens.length - MOST_NAMED),
    }),
  ];
}

/**
 * Takes a season of a mating place out of the book, with what stood there, and the place when it has no other. Refused while queens are written down
 * as mated there, naming them, unless their flights are to stay as open matings. It steps back like any other act.
 */
export const takeBackMatingSeason = action({
  name: 'take-back-mating-season',
  place: 'stock',
  what: 'Take a season of a mating place out of the book; flights to it may stay as open matings.',
  input,
  async run({ season, flights_stay_open = false }, { book }) {
    const row = await book.get('mating_season', season);
    const no = (problems: readonly Problem[]) => ({ changes: [], result: null, problems });
    if (row === null) return no([refuse('season', 'unknown-mating-season')]);
    const flights = await book.find('natural_mating', { season });
    if (flights.length > 0 && !flights_stay_open) return no(await restingOn(book, flights));
    const stood = await book.find('mating_season_source', { season });
    return {
      changes: [
        ...flights.map(({ id }) => setting('natural_mating', id, { season: null })),
        ...stood.map(({ id }) => dropping('mating_season_source', id)),
        dropping('mating_season', season),
        ...(await leavingPlace(book, row)),
      ],
      result: { id: season },
    };
  },
});
