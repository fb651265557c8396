import { z } from 'zod';
import type { Book, Change } from '#ports/store.ts';
import { dayShape, idShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { type Problem, refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { action } from '../mechanism/action.ts';
import { creating, setting } from '../mechanism/recording.ts';

/** Where a colony stands now. */
export const openPlaces = (book: Book, colony: RecordId): Promise<Row<'colony_place'>[]> =>
  book.find('colony_place', { colony, stood_to: null });

/** Ends the places of a colony. */
export const leaving = (places: readonly Row<'colony_place'>[], on: Day): Change[] =>
  places.map(({ id }) => setting('colony_place', id, { stood_to: on }));

/** What keeps a colony from changing: there is none, or it has ended. */
export function colonyProblems(colony: Row<'colony'> | null, id: RecordId, path: string): Problem[] {
  if (colony === null) return [refuse(path, 'unknown-record', { kind: 'colony', id })];
  return colony.ended === null
    ? []
    : [refuse(path, 'colony-has-ended', { kind: 'colony', id, code: colony.code, day: colony.ended })];
}

const input = z.strictObject({
  colony: idShape,
  yard: idShape,
  /** Its place in the walking order of the yard. */
  spot: z.int().min(0).max(100_000).optional(),
  on: dayShape.optional(),
});

/** Carries a colony to another yard, or to another spot of its yard. */
export const moveColony = action({
  name: 'move-colony',
  place: 'yard',
  what: 'Carry a colony to another yard or spot.',
  input,
  async run({ colony, yard, spot, on }, { book, newId, day }) {
    const problems = colonyProblems(await book.get('colony', colony), colony, 'colony');
    if (problems.length > 0) return { changes: [], result: null, problems };
    const from = on ?? day;
    const begun = creating('colony_place', newId(), { colony, yard, stood_from: from, spot: spot ?? null });
    return { changes: [...leaving(await openPlaces(book, colony), from), begun], result: { id: colony } };
  },
});

const orderInput = z.strictObject({ yard: idShape, colonies: z.array(idShape).min(1).max(5_000) });

/** Says in which order the colonies of a yard are walked. */
export const orderYard = action({
  name: 'order-yard',
  place: 'yard',
  what: 'Say in which order the colonies of a yard are walked.',
  input: orderInput,
  async run({ yard, colonies }, { book }) {
    const spot = new Map(colonies.map((colony, n) => [colony, n + 1]));
    const places = await book.find('colony_place', { yard, colony: colonies, stood_to: null });
    const changes = places.flatMap((place) => {
      const now = spot.get(place.colony) ?? null;
      return now === place.spot ? [] : [setting('colony_place', place.id, { spot: now })];
    });
    return { changes, result: { id: yard } };
  },
});
