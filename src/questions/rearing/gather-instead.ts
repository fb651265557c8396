import { type Instead, whatInstead } from '#domain/rearing/reality/what-instead.ts';
import type { Wish } from '#domain/rearing/wish.ts';
import { gatherCombs, lotsByMother } from '#gather/season-combs.ts';
import type { Facts } from '#ports/store.ts';
import type { Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import type { Problem } from '#units/problem.ts';

type Told = {
  cross: Row<'cross'>;
  wish: Wish;
  today: Day;
  called: (id: string) => string;
  warnings: readonly Problem[];
};

/** What can be done about a day that is too near: the earliest day, and whose drones are on the way for it. `null` where nothing warns of that. */
export async function gatherInstead(facts: Facts, told: Told): Promise<Instead | null> {
  const { cross, wish, today, called, warnings } = told;
  if (!warnings.some(({ code }) => code === 'day-too-near')) return null;
  const instead = whatInstead({
    wish,
    today,
    microlitres: cross.queens_wanted * cross.dose_ul * (cross.doses ?? 1),
    lots: lotsByMother(await gatherCombs(facts, { today, usual: wish.profile })),
  });
  return { ...instead, mothers: instead.mothers.map((one) => ({ ...one, mother: called(one.mother) })) };
}
