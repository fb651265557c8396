import { z } from 'zod';

/** The name a breeder gives a profile; crosses name it by this. */
export const nameShape = z.string().trim().min(1).max(100);

/** One figure as a breeder sets it: shares 0-1, days, µl or counts. */
export const figureShape = z.strictObject({
  figure: z.string().max(100),
  value: z.number(),
  /** Plausible range; the value itself where none is known. */
  low: z.number().optional(),
  high: z.number().optional(),
  /** What it rests on, in the breeder's own words. */
  source: z.string().trim().max(500).nullable().optional(),
  /** Worked out from the book's own records. */
  learned: z.boolean().optional(),
});
export type FigureEntry = z.infer<typeof figureShape>;
