/** How a coefficient of a regression is told: what it comes to with its range, and how easily it is luck. */
import { normalBelow } from '#numeric/chance/normal.ts';
import { Z95 } from '#numeric/intervals/interval.ts';
import { type Luck, luckOf } from './luck.ts';

/** A number with its 95 % range. */
export type Ranged = { value: number; low: number; high: number };

/** A number and its Wald interval, value ± 1.96 standard errors, each turned into what is told. `turn` rises. */
export const ranged = (value: number, error: number, turn: (x: number) => number): Ranged => ({
  value: turn(value),
  low: turn(value - Z95 * error),
  high: turn(value + Z95 * error),
});

/** How easily luck alone would give a coefficient so far from 0, among so many that are looked at. */
export const luckOfCoefficient = (value: number, error: number, compared: number): Luck =>
  luckOf(2 * normalBelow(-Math.abs(value / error)), compared);
