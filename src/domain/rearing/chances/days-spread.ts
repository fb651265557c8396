import type { Figure } from '../figure.ts';

/** Something that takes so many whole days with so much weight; weights add up to 1. */
export type DaysSpread = readonly { days: number; weight: number }[];

/** How much of the brood keeps to the middle figure; no source, an assumption that is shown and can be changed. */
const ON_TIME = 0.7;

/**
 * A development time in days as a spread: 70 % on the middle figure, the rest evenly over the other whole days of its range.
 * @example daysSpread(ranged({ value: 12, low: 11, high: 13 }, …)) // 11: 0.15, 12: 0.7, 13: 0.15
 */
export function daysSpread({ value, low, high }: Figure): DaysSpread {
  const others: number[] = [];
  for (let days = Math.ceil(low); days <= high; days++) if (days !== Math.round(value)) others.push(days);
  if (others.length === 0) return [{ days: Math.round(value), weight: 1 }];
  const rest = (1 - ON_TIME) / others.length;
  return [{ days: Math.round(value), weight: ON_TIME }, ...others.map((days) => ({ days, weight: rest }))].sort(
    (a, b) => a.days - b.days,
  );
}
