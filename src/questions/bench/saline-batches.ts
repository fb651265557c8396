import { z } from 'zod';
import { question } from '../mechanism/question.ts';

/** Batches of saline, the newest first, with the antibiotic in them as it was recorded. */
export const salineBatches = question({
  name: 'saline-batches',
  what: 'Batches of saline, the newest first, with the antibiotic in them as recorded.',
  input: z.strictObject({}),
  reads: ['saline_batch'],
  gather: (_, facts) => facts.find('saline_batch'),
  answer: (rows) => ({
    batches: [...rows]
      .reverse()
      .map(({ id, code, recipe, made_on, antibiotic }) => ({ id, code, recipe, madeOn: made_on, antibiotic })),
  }),
});
