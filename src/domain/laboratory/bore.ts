import { type Microlitre, type Millimetre, microlitres, millimetres } from '#units/volume.ts';

/**
 * µl in one mm of a round bore: π d² / 4 (d in mm; 1 mm³ = 1 µl). Throws unless the bore is > 0.
 * @example microlitresPerMillimetre(millimetres(0.5)) // 0.19635
 */
export function microlitresPerMillimetre(bore: Millimetre): number {
  if (!(bore > 0)) throw new RangeError(`not a bore: ${bore}`);
  return (Math.PI * bore * bore) / 4;
}

/** Length of the column a volume fills, mm. @example columnLength(0.5 mm, 8 µl) // 40.74 */
export const columnLength = (bore: Millimetre, volume: Microlitre): Millimetre =>
  millimetres(volume / microlitresPerMillimetre(bore));

/** Volume of a column, µl: what a ruler beside the capillary tells. */
export const columnVolume = (bore: Millimetre, length: Millimetre): Microlitre =>
  microlitres(length * microlitresPerMillimetre(bore));

/** Relative error of a volume read by length: twice that of the bore, and that of the length (added as independent errors). */
export const columnError = (relative: { bore: number; length: number }): number =>
  Math.hypot(2 * relative.bore, relative.length);
