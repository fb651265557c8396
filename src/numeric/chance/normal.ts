import { incompleteGammaAbove } from './incomplete-gamma.ts';

/**
 * P(Z <= z) for a standard normal Z, to 1e-14: half of Q(½, z²/2) on the far side (Abramowitz and Stegun 1964, 26.4.19).
 * @example normalBelow(1.96) // 0.9750
 */
export function normalBelow(z: number): number {
  const tail = z === 0 ? 0.5 : 0.5 * incompleteGammaAbove(0.5, (z * z) / 2);
  return z < 0 ? tail : 1 - tail;
}

/**
 * The value z with P(Z <= z) = share, 0 < share < 1: by halving, to 1e-9; −9 or 9 where z would lie beyond (so for a share of 0 or 1).
 * @example normalQuantile(0.975) // 1.95996
 */
export function normalQuantile(share: number): number {
  let [low, high] = [-9, 9];
  while (high - low > 1e-9) {
    const middle = (low + high) / 2;
    if (normalBelow(middle) < share) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
