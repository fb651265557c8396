import { z } from 'zod';
import type { Change } from '#ports/store.ts';
import { dayShape, idShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { action, type Circumstances } from '../mechanism/action.ts';
import { creating, setting } from '../mechanism/recording.ts';
import { colonyProblems, leaving, openPlaces } from './change-place.ts';
import { ending, openStaysIn } from './where-she-is.ts';

type Ended = NonNullable<Row<'colony'>['ended_how']>;

/** A colony ends: so does its place. */
async function ends(colony: RecordId, how: Ended, on: Day, { book }: Circumstances): Promise<Change[]> {
  return [setting('colony', colony, { ended: on, ended_how: how }), ...leaving(await openPlaces(book, colony), on)];
}

/** What became of the queen of a colony that was lost, dissolved or sold. */
const fates = { lost: 'lost', sold: 'sold' } as const;

const input = z.strictObject({
  colony: idShape,
  how: z.enum(['lost', 'dissolved', 'sold']),
  on: dayShape.optional(),
  /** The first day it may have been, when only a span is known (found dead in spring). */
  not_before: dayShape.optional(),
  /** True when its queen went with it. Left out, she is only no longer there. */
  queen_too: z.boolean().optional(),
});

/** Writes down the end of a colony: lost, dissolved or sold, with its queen or without her. */
export const endColony = action({
  name: 'end-colony',
  place: 'yard',
  what: 'Write down that a colony was lost, dissolved or sold, with its queen or without her.',
  input,
  async run({ colony, how, on, not_before, queen_too }, circumstances) {
    const { book, day, newId } = circumstances;
    const problems = colonyProblems(await book.get('colony', colony), colony, 'colony');
    if (problems.length > 0) return { changes: [], result: null, problems };
    const last = on ?? day;
    const first = not_before ?? last;
    const stays = await openStaysIn(book, colony);
    const kind = queen_too === true && how !== 'dissolved' ? fates[how] : null;
    const span = { happened_on: first, happened_latest: last };
    const fate = kind === null ? [] : stays.map(({ queen }) => creating('fate', newId(), { queen, kind, ...span }));
    return {
      changes: [...(await ends(colony, how, last, circumstances)), ...ending(stays, first, last), ...fate],
      result: { id: colony },
    };
  },
});

const uniteInput = z.strictObject({
  /** The colony that is no more. */
  from: idShape,
  into: idShape,
  on: dayShape.optional(),
  /** The queen who heads the united colony; left out: it is not known yet. */
  queen: idShape.optional(),
});

/** Unites two colonies: one is no more, and one queen at most heads the other. */
export const uniteColonies = action({
  name: 'unite-colonies',
  place: 'yard',
  what: 'Unite a colony with another, and say which queen heads it.',
  input: uniteInput,
  async run({ from, into, on, queen }, circumstances) {
    const { book, day, newId } = circumstances;
    if (from === into) return { changes: [], result: null, problems: [refuse('into', 'united-with-itself')] };
    const problems = [
      ...colonyProblems(await book.get('colony', from), from, 'from'),
      ...colonyProblems(await book.get('colony', into), into, 'into'),
    ];
    if (problems.length > 0) return { changes: [], result: null, problems };
    const when = on ?? day;
    const there = await openStaysIn(book, into);
    const leave = [
      ...(await openStaysIn(book, from)),
      ...there.filter((stay) => queen !== undefined && stay.queen !== queen),
    ];
    const stays = queen !== undefined && there.some((stay) => stay.queen === queen);
    const stay = { colony: into, role: 'heads', from_earliest: when, from_latest: when } as const;
    return {
      changes: [
        ...(await ends(from, 'united', when, circumstances)),
        setting('colony', from, { united_into: into }),
        ...ending(leave, when),
        ...(queen === undefined || stays ? [] : [creating('stay', newId(), { queen, ...stay })]),
      ],
      result: { id: into },
    };
  },
});
