/** A queen as far as her disc is concerned. `year` is the calendar year she emerged. */
export type DiscBearer = { year: number; disc: number | null; living: boolean };

/** The numbers a set of discs carries, both ends included; most sets are numbered 1-99. */
export type DiscSet = { from: number; to: number };
export const USUAL_DISCS: DiscSet = { from: 1, to: 99 };

/**
 * The disc numbers no living queen of that year bears, lowest first. Dead queens give theirs back; queens of other years do not
 * count, since colour and number together are told apart by the year.
 * @example freeDiscs(2027, [{ year: 2027, disc: 1, living: true }], { from: 1, to: 3 }) // [2, 3]
 */
export function freeDiscs(year: number, bearers: readonly DiscBearer[], set: DiscSet = USUAL_DISCS): number[] {
  const taken = new Set(bearers.filter((one) => one.living && one.year === year).map(({ disc }) => disc));
  const free: number[] = [];
  for (let disc = set.from; disc <= set.to; disc++) if (!taken.has(disc)) free.push(disc);
  return free;
}

/**
 * The next number to put on: the lowest free one above the highest in use, else the lowest free one, else `null` when the set is
 * used up. Going on upwards keeps a number from coming back the day after its bearer was culled.
 */
export function nextDisc(year: number, bearers: readonly DiscBearer[], set: DiscSet = USUAL_DISCS): number | null {
  const free = freeDiscs(year, bearers, set);
  const used = bearers.flatMap((one) => (one.year === year && one.disc !== null ? [one.disc] : []));
  const highest = Math.max(set.from - 1, ...used.filter((disc) => disc <= set.to));
  return free.find((disc) => disc > highest) ?? free[0] ?? null;
}
