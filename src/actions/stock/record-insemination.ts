import { z } from 'zod';
import { exceptionKinds } from '#records/bench.ts';
import { idShape } from '#records/field.ts';
import { kinds } from '#records/kinds.ts';
import { action } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';

const input = z.strictObject({
  insemination: kinds.insemination.entry,
  /** What she was given, where no ledger tells: drone mothers with shares, or alternatives with weights. */
  sources: z
    .array(
      z.strictObject({
        queen: idShape.optional(),
        sister_group: idShape.optional(),
        line: idShape.optional(),
        share: z.number().min(0).max(1).optional(),
        alternative: z.literal(1).optional(),
      }),
    )
    .optional(),
  exceptions: z.array(z.enum(exceptionKinds)).optional(),
});

/** Writes down an insemination from an older book or from memory, with the drone mothers as they are known. */
export const recordInsemination = action({
  name: 'record-insemination',
  place: 'stock',
  what: 'Write down an insemination from an older book, with its drone mothers as far as they are known.',
  input,
  async run({ insemination, sources = [], exceptions = [] }, { newId }) {
    const id = newId();
    return {
      changes: [
        creating('insemination', id, insemination),
        ...sources.map((source) => creating('insemination_source', newId(), { insemination: id, ...source })),
        ...exceptions.map((kind) => creating('insemination_exception', newId(), { insemination: id, kind })),
      ],
      result: { id },
    };
  },
});
