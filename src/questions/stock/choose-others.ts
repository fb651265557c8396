import { z } from 'zod';
import type { Row } from '#records/kinds.ts';
import { type Question, question } from '../mechanism/question.ts';

/** A record to choose by its name, with what stands beside it. */
export type NamedRecord = { id: string; code: string; beside: string };

/** Everything besides queens a form of Stock chooses from. */
export type OtherRecords = {
  colonies: NamedRecord[];
  cages: NamedRecord[];
  yards: NamedRecord[];
  persons: NamedRecord[];
  lines: NamedRecord[];
  groups: NamedRecord[];
  /** Mating places, season by season, the newest first. */
  seasons: NamedRecord[];
};

type Gathered = {
  colonies: Row<'colony'>[];
  places: Row<'colony_place'>[];
  cages: Row<'cage'>[];
  yards: Row<'yard'>[];
  persons: Row<'person'>[];
  lines: Row<'line'>[];
  groups: Row<'sister_group'>[];
  seasons: Row<'mating_season'>[];
  matingPlaces: Row<'mating_place'>[];
};

const input = z.strictObject({});
const named = (rows: readonly { id: string; name: string }[]): NamedRecord[] =>
  rows.map(({ id, name }) => ({ id, code: name, beside: '' }));

/** Colonies that stand, cages, yards, persons, lines, sister groups and mating places, to choose from. */
export const chooseOthers: Question<z.infer<typeof input>, Gathered, OtherRecords> = question({
  name: 'choose-others',
  what: 'Colonies, cages, yards, persons, lines, sister groups and mating places to choose from.',
  input,
  reads: ['colony', 'colony_place', 'cage', 'yard', 'person', 'line', 'sister_group', 'mating_season', 'mating_place'],
  gather: async (_, facts) => ({
    colonies: await facts.find('colony', { ended: null }),
    places: await facts.find('colony_place', { stood_to: null }),
    cages: await facts.find('cage'),
    yards: await facts.find('yard'),
    persons: await facts.find('person'),
    lines: await facts.find('line'),
    groups: await facts.find('sister_group'),
    seasons: await facts.find('mating_season'),
    matingPlaces: await facts.find('mating_place'),
  }),
  answer({ colonies, places, cages, yards, persons, lines, groups, seasons, matingPlaces }) {
    const yardOf = new Map(places.map(({ colony, yard }) => [colony, yard]));
    const yardName = new Map(yards.map(({ id, name }) => [id, name]));
    const placeName = new Map(matingPlaces.map(({ id, name }) => [id, name]));
    return {
      colonies: colonies.map(({ id, code }) => {
        const yard = yardOf.get(id);
        return { id, code, beside: (yard === undefined ? undefined : yardName.get(yard)) ?? '' };
      }),
      cages: cages.map(({ id, number }) => ({ id, code: number, beside: '' })),
      yards: named(yards),
      persons: named(persons.filter(({ erased }) => erased !== 1)),
      lines: named(lines),
      groups: groups.map(({ id, code, size }) => ({ id, code, beside: `× ${size}` })),
      seasons: [...seasons]
        .sort((a, b) => b.year - a.year)
        .map(({ id, place, year }) => ({ id, code: placeName.get(place) ?? '', beside: String(year) })),
    };
  },
});
