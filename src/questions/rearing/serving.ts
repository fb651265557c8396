import type { Wish } from '#domain/rearing/wish.ts';
import { addDays, type Day } from '#units/calendar-day.ts';
import type { BarLine, CombLine } from './gather-raised.ts';

/** Who a cross is made of: its queen mothers and its drone mothers. */
export type CrossParts = { cross: string; dams: ReadonlySet<string>; mothers: ReadonlySet<string> };

/** Combs and bars that serve a cross: raised for it, or of its queens, for no other cross, and of age on its day. */
export function serving(
  wish: Wish | null,
  { combs, bars }: { combs: readonly CombLine[]; bars: readonly BarLine[] },
  of: CrossParts,
): { combs: CombLine[]; bars: BarLine[] } {
  const inTime = (emerged: { from: Day; to: Day } | null, ages: { from: number; to: number } | undefined) => {
    if (wish === null || emerged === null || ages === undefined) return false;
    return addDays(emerged.from, ages.from) <= wish.inseminate && wish.inseminate <= addDays(emerged.to, ages.to);
  };
  return {
    combs: combs.filter(
      ({ cross, mother, emerged }) =>
        cross === of.cross || (mother !== null && of.mothers.has(mother) && inTime(emerged, wish?.profile.drones.hard)),
    ),
    bars: bars.filter(
      ({ cross, ranges, emerged }) =>
        cross === of.cross ||
        (cross === null &&
          ranges.some(({ damId }) => of.dams.has(damId)) &&
          inTime(emerged, wish?.profile.queens.hard)),
    ),
  };
}
