import { z } from 'zod';
import { dayShape, idShape } from '#records/field.ts';
import { question } from '../mechanism/question.ts';
import { gatherYardBook, type Nuc, yardReads } from './yard-book.ts';

const input = z.strictObject({
  today: dayShape,
  yard: idShape.optional(),
  colonies: z.array(idShape).max(2_000).optional(),
  /** The first free label of a part-used sheet, from 1. */
  start: z.int().min(1).max(24).default(1),
});

/** Nucs to label, in walking order, and where on the sheet to begin. */
export const nucLabels = question({
  name: 'nuc-labels',
  what: 'Colonies to print labels for, in walking order, from the first free label of a sheet.',
  input: input as unknown as z.ZodType<z.infer<typeof input>>,
  reads: yardReads,
  gather: async ({ today }, facts) => (await gatherYardBook(facts, today)).nucs,
  answer: (nucs: readonly Nuc[], { yard, colonies, start }) => ({
    start,
    nucs: nucs.filter(
      ({ id, yard: of }) =>
        (yard === undefined || of?.id === yard) && (colonies === undefined || colonies.includes(id)),
    ),
  }),
});
