import { type Microlitre, type Millimetre, microlitres } from '#units/volume.ts';

/**
 * Volume of a sphere by its diameter, µl: π d³ / 6 (d in mm). For a spermatheca take the mean of two crossed diameters,
 * and say whether the tracheal net was taken off (full: over 1.2 mm with it, about 1 mm naked; Cobey et al. 2013, J. Apic. Res. 52(4)).
 * @example sphereVolume(millimetres(1.2)) // 0.905
 */
export function sphereVolume(diameter: Millimetre): Microlitre {
  if (!(diameter >= 0)) throw new RangeError(`not a diameter: ${diameter}`);
  return microlitres((Math.PI * diameter ** 3) / 6);
}

/** What a number of stored sperm is held to mean. */
export type StoredSpermBand = 'supersedure-risk' | 'below-target' | 'fully-mated';

/**
 * What stored sperm is held to mean, millions: under 3 = expected to be superseded within a year; 4 = what insemination aims
 * for; 4-7 = a fully mated queen (NSW DPI advisory DAI/112, 2002). The 3-to-4 stretch is called below target.
 */
export function storedSpermBand(million: number): StoredSpermBand {
  if (million < 3) return 'supersedure-risk';
  return million < 4 ? 'below-target' : 'fully-mated';
}
