import { daysBetween } from '#units/calendar-day.ts';
import type { Wish } from '../wish.ts';

/** By how many days grafts and drone combs of a cross go later (negative = earlier). */
export type RaisingShift = { queens: number; drones: number };

const agesOf = ({ queenAge, droneAge, profile: { usual } }: Wish) => ({
  queens: queenAge ?? usual.queenAge,
  drones: (droneAge ?? usual.droneAge).to,
});

/**
 * How far what is planned for a wish goes along when it becomes another: a later insemination day takes grafts and combs along, older queens or
 * drones are begun that much earlier (graft = I − queen age − 12; first useful eggs = I − oldest − 24).
 * @example raisingShift(wish, { ...wish, inseminate: addDays(wish.inseminate, 2), queenAge: 9 }) // with 8 before: { queens: 1, drones: 2 }
 */
export function raisingShift(before: Wish, after: Wish): RaisingShift {
  const days = daysBetween(before.inseminate, after.inseminate);
  const [old, young] = [agesOf(before), agesOf(after)];
  return { queens: days + old.queens - young.queens, drones: days + old.drones - young.drones };
}
