import { z } from 'zod';
import { idShape, momentShape } from '#records/field.ts';

/** µl as entered: 0 or more. */
export const microlitreShape = z.number().min(0).max(1_000_000);

/** The end of a tube semen enters or leaves by. */
export const endShape = z.enum(['filled', 'other']);

/** How a volume was read: on a scale, as a length in a known bore, or by eye. */
export const readHowShape = z.enum(['scale', 'bore', 'eye']);

/** When something happened and who did it; the time of the act when nothing is said. */
export const whenAndWho = { at: momentShape.optional(), person: idShape.optional() };

/** A tube that is not in the book yet. */
export const newTubeShape = z.strictObject({
  code: z.string().trim().min(1).max(200),
  form: z.enum(['capillary', 'vial', 'tip']).optional(),
  bore_mm: z.number().positive().max(10).optional(),
  slot: z.string().trim().min(1).max(200).optional(),
  stored_where: z.string().trim().min(1).max(200).optional(),
  temperature_c: z.number().min(-273).max(60).optional(),
});
export type NewTube = z.infer<typeof newTubeShape>;

/** Whose drones they are: a mother, the colony or comb they came from, or a group of sisters; and their share. */
export const sourceShape = z.strictObject({
  mother: idShape.optional(),
  colony: idShape.optional(),
  comb: idShape.optional(),
  sister_group: idShape.optional(),
  share: z.number().min(0).max(1).optional(),
  told_apart: z.string().trim().min(1).max(200).optional(),
});
export type Source = z.infer<typeof sourceShape>;
