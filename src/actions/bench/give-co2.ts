import { z } from 'zod';
import { idShape, momentShape } from '#records/field.ts';
import { action } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';
import { firstCo2Done } from '../rearing/first-co2.ts';

const input = z.strictObject({
  bench_day: idShape.optional(),
  queens: z.array(idShape).min(1).max(500),
  minutes: z.number().min(0).max(120).optional(),
  relation: z.enum(['before', 'with', 'after']),
  person: idShape.optional(),
  at: momentShape.optional(),
});

/** Carbon dioxide given to queens: one act for all of them, before, with or after the insemination. */
export const giveCo2 = action({
  name: 'give-co2',
  place: 'bench',
  what: 'Record carbon dioxide given to one or many queens, with its minutes.',
  input,
  async run({ queens, at, bench_day, minutes, relation, person }, { book, newId, done, day }) {
    const id = newId();
    const treatment = { moment: at ?? done, minutes, relation, bench_day, person };
    return {
      changes: [
        creating('co2_treatment', id, treatment),
        ...queens.map((queen) => creating('co2_queen', newId(), { treatment: id, queen })),
        ...(relation === 'before' ? await firstCo2Done(book, queens, day) : []),
      ],
      result: { id },
    };
  },
});
