import { z } from 'zod';
import { idShape } from '#records/field.ts';
import { kinds } from '#records/kinds.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { creating, dropping, setting } from '../mechanism/recording.ts';

const input = z.strictObject({
  queen: idShape,
  /** The facts that are otherwise, or newly known; `null` = not known. */
  set: kinds.queen.patch,
  /** Every reading of who her dam is, when that is a guess; replaces the readings there were. */
  dams: z
    .array(z.strictObject({ dam: idShape, weight: z.number().min(0).max(1).optional() }))
    .max(20)
    .optional(),
});

/** Corrects what is written of a queen, her possible dams included; the old reading stays in her history. */
export const describeQueen = action({
  name: 'describe-queen',
  place: 'stock',
  what: 'Correct or add what is known of a queen, with her possible dams when that is a guess.',
  input,
  async run({ queen, set, dams }, { book, newId }) {
    if ((await book.get('queen', queen)) === null)
      return { changes: [], result: null, problems: [refuse('queen', 'unknown-record', { kind: 'queen', id: queen })] };
    const readings = dams === undefined ? [] : await book.find('guess', { about: queen, field: 'dam' });
    const likeliest = [...(dams ?? [])].sort((a, b) => (b.weight ?? 0) - (a.weight ?? 0))[0];
    const guessed = likeliest === undefined ? {} : { dam: likeliest.dam, dam_sure: 'guessed' as const };
    const changed = { ...set, ...guessed };
    return {
      changes: [
        ...(Object.keys(changed).length === 0 ? [] : [setting('queen', queen, changed)]),
        ...readings.map(({ id }) => dropping('guess', id)),
        ...(dams ?? []).map(({ dam, weight }) =>
          creating('guess', newId(), {
            about_kind: 'queen',
            about: queen,
            field: 'dam',
            value: dam,
            weight: weight ?? null,
          }),
        ),
      ],
      result: { id: queen },
    };
  },
});
