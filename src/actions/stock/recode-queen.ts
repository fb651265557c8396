import { z } from 'zod';
import { idShape } from '#records/field.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { creating, setting } from '../mechanism/recording.ts';

const input = z.strictObject({
  queen: idShape,
  code: z.string().trim().min(1).max(200),
  /** Who gave the former code, when it was not the keeper. */
  given_by: z.string().optional(),
});

/** Gives a queen her code, or another one; the former stays findable. */
export const recodeQueen = action({
  name: 'recode-queen',
  place: 'stock',
  what: 'Give a queen a code; a former one stays findable.',
  input,
  async run({ queen, code, given_by }, { book, newId, day }) {
    const her = await book.get('queen', queen);
    if (her === null)
      return { changes: [], result: null, problems: [refuse('queen', 'unknown-record', { kind: 'queen', id: queen })] };
    const former =
      her.code === null || her.code === code
        ? []
        : [creating('queen_code', newId(), { queen, code: her.code, borne_to: day, given_by: given_by ?? null })];
    return { changes: [setting('queen', queen, { code }), ...former], result: { id: queen } };
  },
});
