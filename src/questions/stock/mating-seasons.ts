import { z } from 'zod';
import type { QueenFace } from '#domain/marking/queen-face.ts';
import type { Facts } from '#ports/store.ts';
import { dayShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import { question } from '../mechanism/question.ts';
import { faceReads, queenFaces } from './queen-faces.ts';

/** One season of a mating place: which drone mothers stood there, and how many queens are written down as mated there. */
export type MatingSeasonTold = {
  id: string;
  place: string;
  year: number;
  /** Days the drone mothers stood there. */
  from: Day | null;
  to: Day | null;
  /** How far it is trusted that no other drones came. */
  trusted: 'known' | 'guessed' | null;
  queens: QueenFace[];
  groups: { id: string; code: string; size: number }[];
  /** How many drone mothers that is, a group with all its sisters. */
  mothers: number;
  mated: number;
  /** Those of them who are in the book, in order of their flights. */
  flown: QueenFace[];
};

const input = z.strictObject({ today: dayShape });
type Gathered = {
  places: Row<'mating_place'>[];
  seasons: Row<'mating_season'>[];
  sources: Row<'mating_season_source'>[];
  groups: Row<'sister_group'>[];
  flights: Row<'natural_mating'>[];
  faces: QueenFace[];
};

/** Every season of every mating place, the newest first. */
export const matingSeasons = question({
  name: 'mating-seasons',
  what: 'Mating places by season: which drone mothers stood there, and how many queens were mated there.',
  input,
  reads: [...faceReads, 'mating_place', 'mating_season', 'mating_season_source', 'sister_group', 'natural_mating'],
  gather: async ({ today }, facts: Facts): Promise<Gathered> => ({
    places: await facts.find('mating_place'),
    seasons: await facts.find('mating_season'),
    sources: await facts.find('mating_season_source'),
    groups: await facts.find('sister_group'),
    flights: await facts.find('natural_mating'),
    faces: await queenFaces(facts, { today }),
  }),
  answer({ places, seasons, sources, groups, flights, faces }: Gathered): { seasons: MatingSeasonTold[] } {
    const names = new Map<string, string>(places.map(({ id, name }) => [id, name]));
    const faceOf = new Map(faces.map((face) => [face.id, face]));
    const groupOf = new Map<string, Row<'sister_group'>>(groups.map((group) => [group.id, group]));
    const sourcesOf = groupBy(sources, ({ season }) => season as string);
    const flightsOf = groupBy(
      flights.filter(({ season }) => season !== null),
      ({ season }) => season as string,
    );
    const told = seasons.map(({ id, place, year, stood_from, stood_to, trusted }): MatingSeasonTold => {
      const stood = sourcesOf.get(id) ?? [];
      const queens = stood.flatMap(({ queen }) => (queen === null ? [] : (faceOf.get(queen) ?? [])));
      const sisters = stood.flatMap(({ sister_group }) => groupOf.get(sister_group ?? '') ?? []);
      const mated = new Set<string>((flightsOf.get(id) ?? []).map(({ queen }) => queen));
      return {
        id,
        place: names.get(place) ?? '',
        year,
        from: stood_from,
        to: stood_to,
        trusted,
        queens,
        groups: sisters.map(({ id: group, code, size }) => ({ id: group, code, size })),
        mothers: queens.length + sisters.reduce((sum, { size }) => sum + Math.max(1, size), 0),
        mated: mated.size,
        flown: [...mated].flatMap((queen) => faceOf.get(queen) ?? []),
      };
    });
    return { seasons: told.sort((a, b) => b.year - a.year || (a.place < b.place ? -1 : 1)) };
  },
});
