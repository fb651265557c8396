import { z } from 'zod';
import { dayShape, idShape } from '#records/field.ts';

const use = z.strictObject({
  cross: idShape,
  /** The insemination day it is for: a cross may be done on several. */
  on: dayShape,
  amount: z.number().min(0).max(10_000),
});

/** A plan of a season as it is taken: days of crosses, bars and combs with what of them is whose. */
export const seasonPlanShape = z.strictObject({
  days: z
    .array(
      z.strictObject({
        cross: idShape,
        on: dayShape,
        queens: z.int().min(1).max(10_000),
        queen_age: z.int().min(1).max(60),
        drone_age_from: z.int().min(1).max(120),
        drone_age_to: z.int().min(1).max(120),
      }),
    )
    .min(1)
    .max(500),
  bars: z
    .array(
      z.strictObject({
        dam: idShape,
        day: dayShape,
        larvae: z.int().min(1).max(1_000),
        uses: z.array(use).min(1).max(200),
      }),
    )
    .max(500),
  combs: z
    .array(
      z.strictObject({
        /** A drone mother, or the sister group or line whose queens may be taken. */
        mother: idShape,
        day: dayShape,
        combs: z.int().min(1).max(100),
        uses: z.array(use).min(1).max(200),
      }),
    )
    .max(500),
});

export type SeasonPlan = z.infer<typeof seasonPlanShape>;
export type PlannedUse = z.infer<typeof use>;
