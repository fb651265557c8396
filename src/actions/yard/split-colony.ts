import { z } from 'zod';
import { dayShape, idShape } from '#records/field.ts';
import { kinds } from '#records/kinds.ts';
import { action } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';
import { colonyProblems, openPlaces } from './change-place.ts';
import { ending, openStaysIn } from './where-she-is.ts';

const input = z.strictObject({
  from: idShape,
  /** The new colony. */
  colony: kinds.colony.entry,
  yard: idShape.optional(),
  spot: z.int().min(0).max(100_000).optional(),
  on: dayShape.optional(),
  /** True when the queen goes with the new part. */
  queen_goes: z.boolean().optional(),
});

/** Splits a colony: a new one is made of part of it, with the queen or without her. */
export const splitColony = action({
  name: 'split-colony',
  place: 'yard',
  what: 'Make a new colony or nuc of part of one, with its queen or without her.',
  input,
  async run({ from, colony, yard, spot, on, queen_goes }, { book, newId, day }) {
    const problems = colonyProblems(await book.get('colony', from), from, 'from');
    if (problems.length > 0) return { changes: [], result: null, problems };
    const when = on ?? day;
    const id = newId();
    const place = yard ?? (await openPlaces(book, from))[0]?.yard;
    const heads = queen_goes === true ? (await openStaysIn(book, from)).filter(({ role }) => role === 'heads') : [];
    const stay = { colony: id, role: 'heads', from_earliest: when, from_latest: when } as const;
    return {
      changes: [
        creating('colony', id, { ...colony, since: colony.since ?? when }),
        ...(place === undefined
          ? []
          : [creating('colony_place', newId(), { colony: id, yard: place, stood_from: when, spot: spot ?? null })]),
        ...ending(heads, when),
        ...heads.map(({ queen }) => creating('stay', newId(), { queen, ...stay })),
      ],
      result: { id },
    };
  },
});
