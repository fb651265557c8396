import { z } from 'zod';
import { type Question, question } from '../mechanism/question.ts';

const input = z.strictObject({});

/** Whether the made-up stock stands: then every page says so. */
export const sample: Question<z.infer<typeof input>, number, { stands: boolean }> = question({
  name: 'sample',
  what: 'Whether the made-up stock stands in the book.',
  input,
  reads: ['setting'],
  gather: (_, facts) => facts.count('setting', { name: 'sample' }),
  answer: (n) => ({ stands: n > 0 }),
});
