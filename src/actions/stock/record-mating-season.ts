import { z } from 'zod';
import { dayShape } from '#records/field.ts';
import { action } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';
import { seasonSources, sourceProblems, standingProblems } from './season-sources.ts';

const input = z.strictObject({
  /** The name of the mating place; written down when it is new. */
  place: z.string().trim().min(1).max(200),
  year: z.int().min(1900).max(2200),
  /** The drone mothers, or groups of sisters, that stood there. */
  sources: seasonSources,
  stood_from: dayShape.optional(),
  stood_to: dayShape.optional(),
  /** How far it is trusted that no other drones came. */
  trusted: z.enum(['known', 'guessed']).optional(),
});

/** Writes down which drone mothers stood at a mating place in a season. */
export const recordMatingSeason = action({
  name: 'record-mating-season',
  place: 'stock',
  what: 'Write down which drone mothers stood at a mating place in a season, and how far that is trusted.',
  input,
  async run({ place, year, sources, stood_from = null, stood_to = null, trusted }, { book, newId }) {
    const problems = [...sourceProblems(sources), ...standingProblems(stood_from, stood_to)];
    if (problems.length > 0) return { changes: [], result: null, problems };
    const [known] = await book.find('mating_place', { name: place });
    const at = known?.id ?? newId();
    const id = newId();
    const season = { place: at, year, stood_from, stood_to, trusted: trusted ?? null };
    return {
      changes: [
        ...(known === undefined ? [creating('mating_place', at, { name: place })] : []),
        creating('mating_season', id, season),
        ...sources.map((source) => creating('mating_season_source', newId(), { season: id, ...source })),
      ],
      result: { id },
    };
  },
});
