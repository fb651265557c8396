import { z } from 'zod';
import { exceptionKinds } from '#domain/insemination/exception.ts';
import { idShape, momentShape } from '#records/field.ts';
import { endShape, microlitreShape } from '../semen/shapes.ts';

/** What every act at the board says: the bench day, the cross that is open, when it happened. */
export const atTheBoard = { bench_day: idShape, cross: idShape, at: momentShape.optional() };

/** A part of a dose out of one tube. */
export const drawShape = z.strictObject({ tube: idShape, end: endShape.optional(), microlitres: microlitreShape });

/** What the tip was filled with for one dose (collect and give), or for the next queens. */
export const collectedShape = z.strictObject({
  tube: idShape,
  catch: idShape,
  drones: z.number().min(0).nullable().optional(),
  microlitres: microlitreShape.nullable().optional(),
});

export const exceptionShape = z.enum(exceptionKinds);
