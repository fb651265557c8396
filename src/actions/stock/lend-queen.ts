import { z } from 'zod';
import { dayShape, idShape } from '#records/field.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { creating, setting } from '../mechanism/recording.ts';

const lendInput = z.strictObject({ queen: idShape, lent_to: idShape, on: dayShape.optional() });

/** Lends a queen: her keeper changes, her owner does not. */
export const lendQueen = action({
  name: 'lend-queen',
  place: 'stock',
  what: 'Lend a queen to another keeper; her owner stays the same.',
  input: lendInput,
  async run({ queen, lent_to, on }, { newId, day }) {
    const id = newId();
    return {
      changes: [
        creating('loan', id, { queen, lent_to, lent_on: on ?? day }),
        setting('queen', queen, { keeper: lent_to }),
      ],
      result: { id },
    };
  },
});

const returnInput = z.strictObject({
  queen: idShape,
  on: dayShape.optional(),
  /** The code she came back under, when the other keeper gave her one. */
  code_there: z.string().trim().min(1).optional(),
});

/** Takes a lent queen back; the code she bore elsewhere stays findable. */
export const returnQueen = action({
  name: 'return-queen',
  place: 'stock',
  what: 'Take a lent queen back, with the code she bore elsewhere.',
  input: returnInput,
  async run({ queen, on, code_there }, { book, newId, day }) {
    const [loan] = await book.find('loan', { queen, back_on: null });
    if (loan === undefined)
      return { changes: [], result: null, problems: [refuse('queen', 'not-lent', { kind: 'queen', id: queen })] };
    const back = on ?? day;
    const lender = await book.get('person', loan.lent_to);
    const code =
      code_there === undefined
        ? []
        : [
            creating('queen_code', newId(), {
              queen,
              code: code_there,
              borne_from: loan.lent_on,
              borne_to: back,
              given_by: lender?.name ?? null,
            }),
          ];
    return {
      changes: [setting('loan', loan.id, { back_on: back }), setting('queen', queen, { keeper: null }), ...code],
      result: { id: loan.id },
    };
  },
});
