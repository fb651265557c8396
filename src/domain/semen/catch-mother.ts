import { coverOf, type Stay } from '#domain/living/stay.ts';
import { addDays, type Day } from '#units/calendar-day.ts';

/** Days from the drone egg to the emerging drone: 24 (23-25; Winston 1987, The Biology of the Honey Bee). */
export const EGG_TO_DRONE_DAYS = 24;

/** Drones caught from a colony: the day, and their age in days from emergence, from the youngest to the oldest there may be. */
export type CaughtDrones = { colony: string; caught: Day; ageFrom: number; ageTo: number };

/** When the eggs of caught drones were laid. */
export type LaidSpan = { first: Day; last: Day };

/**
 * Who laid the eggs: known, asked of the breeder (`candidates`, the likeliest first), or nobody the book knows.
 * The span of laying is told with each answer, since the question names it.
 */
export type CatchMother =
  | { answer: 'known'; queen: string; laid: LaidSpan }
  | { answer: 'ask'; candidates: readonly string[]; laid: LaidSpan }
  | { answer: 'unknown'; laid: LaidSpan };

/** The days the eggs of drones caught at an age were laid: catch − age − 24 (23-25 for single drones; the nominal day is used). */
export const laidSpan = ({ caught, ageFrom, ageTo }: CaughtDrones): LaidSpan => ({
  first: addDays(caught, -ageTo - EGG_TO_DRONE_DAYS),
  last: addDays(caught, -ageFrom - EGG_TO_DRONE_DAYS),
});

/**
 * The mother of caught drones is the queen who laid in that colony at catch − age − 24 days: drone holders get requeened,
 * and the queen there today need not be she. Known only when one queen, and no other, was surely heading it all that time;
 * otherwise asked.
 * @param stays all stays; those of other colonies and of caged queens are passed over
 */
export function motherOfCatch(drones: CaughtDrones, stays: readonly Stay[]): CatchMother {
  const laid = laidSpan(drones);
  const there = stays
    .filter((stay) => stay.colony === drones.colony && stay.role === 'heads')
    .map((stay) => ({ queen: stay.queen, cover: coverOf(stay, laid.first, laid.last) }))
    .filter(({ cover }) => cover !== 'none')
    .sort((a, b) => Number(b.cover === 'all') - Number(a.cover === 'all'));
  const candidates = [...new Set(there.map(({ queen }) => queen))];
  const [first, ...others] = candidates;
  if (first === undefined) return { answer: 'unknown', laid };
  const isSure = others.length === 0 && there[0]?.cover === 'all';
  return isSure ? { answer: 'known', queen: first, laid } : { answer: 'ask', candidates, laid };
}
