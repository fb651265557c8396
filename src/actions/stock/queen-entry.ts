import { z } from 'zod';
import { dayShape, idShape } from '#records/field.ts';
import { kinds } from '#records/kinds.ts';

const short = z.string().trim().min(1).max(500);

/** A drone mother, a group of sisters, or a line; `alternative` parts are together one or the other, shares their weights. */
export const sourceEntry = z.strictObject({
  queen: idShape.optional(),
  sister_group: idShape.optional(),
  line: idShape.optional(),
  share: z.number().min(0).max(1).optional(),
  alternative: z.literal(1).optional(),
});
export type SourceEntry = z.infer<typeof sourceEntry>;

/** What she carries, where no tube's ledger tells it. */
export const carriesEntry = z.strictObject({
  /** Our own old record, a seller's word, a mating flight, or a flight that is only suspected. */
  how: z.enum(['inseminated', 'seller', 'open', 'suspected']),
  parts: z.array(sourceEntry).max(200).optional(),
  on: dayShape.optional(),
  /** Effective drones. */
  drones: z.number().positive().max(100_000).optional(),
  given_ul: z.number().min(0).max(1_000).optional(),
  said_by: short.optional(),
  /** The season of the mating place she flew to. */
  season: idShape.optional(),
  /** Part of her sperm a suspected flight is given. */
  share: z.number().min(0).max(1).optional(),
});
export type CarriesEntry = z.infer<typeof carriesEntry>;

const { mark, fate } = kinds;
const without = (shape: z.ZodType, ...names: string[]): z.ZodType =>
  (shape as unknown as z.ZodObject).omit(Object.fromEntries(names.map((name) => [name, true])) as never);

/** Everything that may be written down of a queen in one go: who she is, what is guessed, her mark, her place, what she carries, her end. */
export const queenEntry = z.strictObject({
  queen: kinds.queen.entry,
  /** Other readings of a doubtful fact: possible dams with their weights. */
  guesses: z
    .array(
      z.strictObject({
        field: z.string(),
        value: z.string(),
        weight: z.number().min(0).max(1).optional(),
        by: z.string().optional(),
      }),
    )
    .max(50)
    .optional(),
  mark: without(mark.entry, 'queen').optional() as z.ZodOptional<z.ZodType<Omit<EntryOfMark, 'queen'>>>,
  /** Where she stands: a colony she heads or sits in, or a cage. */
  stands: z
    .strictObject({ colony: idShape.optional(), cage: idShape.optional(), since: dayShape.optional() })
    .optional(),
  carries: carriesEntry.optional(),
  fate: without(fate.entry, 'queen').optional() as z.ZodOptional<z.ZodType<Omit<EntryOfFate, 'queen'>>>,
  former_codes: z.array(short).max(50).optional(),
  note: z.string().trim().min(1).max(20_000).optional(),
  /** She was seen alive on this day. */
  seen_on: dayShape.optional(),
});
type EntryOfMark = z.infer<typeof mark.entry>;
type EntryOfFate = z.infer<typeof fate.entry>;
export type QueenEntry = z.infer<typeof queenEntry>;
