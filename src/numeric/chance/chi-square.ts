import { incompleteGammaAbove } from './incomplete-gamma.ts';

/**
 * P(X > value) for a chi-square X with `freedom` degrees of freedom (>= 1): Q(freedom/2, value/2), Abramowitz and Stegun 1964, 26.4.19. 1 for a value
 * below 0.
 * @example chiSquareAbove(3.841459, 1) // 0.05
 */
export const chiSquareAbove = (value: number, freedom: number): number =>
  incompleteGammaAbove(freedom / 2, Math.max(0, value) / 2);
