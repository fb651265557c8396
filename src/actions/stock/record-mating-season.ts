import { z } from 'zod';
import { dayShape, idShape } from '#records/field.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';

const input = z.strictObject({
  /** The name of the mating place; written down when it is new. */
  place: z.string().trim().min(1).max(200),
  year: z.int().min(1900).max(2200),
  /** The drone mothers, or groups of sisters, that stood there. */
  sources: z.array(z.strictObject({ queen: idShape.optional(), sister_group: idShape.optional() })).max(200),
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
  async run({ place, year, sources, stood_from, stood_to, trusted }, { book, newId }) {
    const nameless = sources.findIndex(
      ({ queen, sister_group }) => (queen === undefined) === (sister_group === undefined),
    );
    if (nameless >= 0)
      return { changes: [], result: null, problems: [refuse(`sources.${nameless}`, 'queen-or-group', {})] };
    const [known] = await book.find('mating_place', { name: place });
    const at = known?.id ?? newId();
    const id = newId();
    const season = {
      place: at,
      year,
      stood_from: stood_from ?? null,
      stood_to: stood_to ?? null,
      trusted: trusted ?? null,
    };
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
