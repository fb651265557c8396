import { type Day, daysBetween } from '#units/calendar-day.ts';

/** A bar or comb of the plan that nothing written down has been matched to yet. */
export type PlannedOne = {
  /** The day it is to be grafted, or hung in. */
  day: Day;
  /** It serves the cross that was named. */
  isNamed: boolean;
  /** Its task was ticked: it was done, and not written down. */
  isTicked: boolean;
  /** It should have been there before the day of what was raised, and a cross still waits for it. */
  isLate: boolean;
};

/** Whoever grafts or hangs in within so many days of a plan does what was planned, whatever else is said. */
const IS_THAT_ONE = 5;

const nearest = <T extends PlannedOne>(planned: readonly T[], on: Day): T | undefined => {
  const off = ({ day }: PlannedOne) => Math.abs(daysBetween(day, on));
  return [...planned].sort((a, b) => off(a) - off(b))[0];
};

/**
 * Which planned bar or comb something raised on a day is. With a cross named: the nearest planned for it, however far off. With none named: the nearest within
 * five days, else the nearest that is late. What was ticked more than five days away was done then, and is not this one. Nothing of another cross is taken.
 * @example itsPlan([{ day: day('2027-05-25'), isNamed: true, isTicked: false, isLate: true }], { on: day('2027-06-02'), isCrossNamed: true })?.day // 2027-05-25
 */
export function itsPlan<T extends PlannedOne>(
  planned: readonly T[],
  { on, isCrossNamed }: { on: Day; isCrossNamed: boolean },
): T | undefined {
  const asked = planned.filter(({ isNamed }) => isNamed || !isCrossNamed);
  const near = asked.filter(({ day }) => Math.abs(daysBetween(day, on)) <= IS_THAT_ONE);
  const far = asked.filter(({ isTicked, isLate }) => !isTicked && (isCrossNamed || isLate));
  return nearest(near, on) ?? nearest(far, on);
}
