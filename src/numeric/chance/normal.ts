import { incompleteGammaAbove } from './incomplete-gamma.ts';

/** P(Z <= z) for a standard normal Z, to 1e-14: half of Q(½, z²/2) on the far side (Abramowitz and Stegun 1964, 26.4.19). */
export function normalBelow(z: number): number {
  const tail = z === 0 ? 0.5 : 0.5 * incompleteGammaAbove(0.5, (z * z) / 2);
  return z < 0 ? tail : 1 - tail;
}
