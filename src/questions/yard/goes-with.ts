import { z } from 'zod';
import type { GoesWith } from '#domain/lessons/goes-with.ts';
import { gatherOutcomes, outcomeReads, type RecordedOutcome } from '#gather/outcomes.ts';
import { dayShape } from '#records/field.ts';
import { type Question, question } from '../mechanism/question.ts';

const input = z.strictObject({
  today: dayShape,
  /** Only queens inseminated on these days. */
  from: dayShape.optional(),
  to: dayShape.optional(),
});

/** What goes with laying, all that is written down weighed together; worked out beside the server. */
export const goesWith: Question<z.infer<typeof input>, RecordedOutcome[], GoesWith> = question({
  name: 'goes-with',
  what: 'What goes with laying, all that is written of the inseminations weighed together: odds with their ranges, operators and tubes drawn to all.',
  input: input as unknown as z.ZodType<z.infer<typeof input>>,
  reads: outcomeReads,
  gather: async ({ today, from, to }, facts) =>
    (await gatherOutcomes(facts, today)).filter(
      ({ inseminated }) =>
        (from === undefined || (inseminated !== null && inseminated >= from)) &&
        (to === undefined || (inseminated !== null && inseminated <= to)),
    ),
  answer: (outcomes, _, compute) => compute.run<GoesWith>('goes-with', outcomes),
});
