import { type Day, daysBetween } from '#units/calendar-day.ts';
import { doubt, type Problem, warn } from '#units/problem.ts';
import { type CaughtDrones, EGG_TO_DRONE_DAYS } from './catch-mother.ts';

/** Days a drone may live at the very most (common practice: three months, late-season drones in queenless colonies). */
export const LONGEST_DRONE_LIFE_DAYS = 90;
/** Days most drones do not outlive (55 d as the long end of published lives; 13-15 d as the short). */
export const LONG_DRONE_LIFE_DAYS = 55;

export type CatchDoubt =
  | 'drones-after-their-mother'
  | 'drones-long-after-their-mother'
  | 'holder-requeened-too-recently';

/**
 * What is implausible about drones said to be of a mother: caught more than 24 + 90 days after she died is doubted (warned
 * from 24 + 55 days); caught from a holder that was requeened with her less than 24 + age days ago is doubted: they are her
 * predecessor's.
 * @param mother the day she ended (null: lives or unknown) and the day she came to head the holder (null: unknown)
 */
export function doubtsOfCatch(
  drones: Pick<CaughtDrones, 'caught' | 'ageFrom'>,
  mother: { ended: Day | null; heading: Day | null },
): Problem<CatchDoubt>[] {
  const problems: Problem<CatchDoubt>[] = [];
  const since = mother.ended === null ? null : daysBetween(mother.ended, drones.caught);
  if (since !== null && since > EGG_TO_DRONE_DAYS + LONGEST_DRONE_LIFE_DAYS) {
    problems.push(doubt('mother', 'drones-long-after-their-mother', { days: since }));
  } else if (since !== null && since > EGG_TO_DRONE_DAYS + LONG_DRONE_LIFE_DAYS) {
    problems.push(warn('mother', 'drones-after-their-mother', { days: since }));
  }
  const headed = mother.heading === null ? null : daysBetween(mother.heading, drones.caught);
  if (headed !== null && headed < EGG_TO_DRONE_DAYS + drones.ageFrom) {
    problems.push(
      doubt('mother', 'holder-requeened-too-recently', { days: headed, needs: EGG_TO_DRONE_DAYS + drones.ageFrom }),
    );
  }
  return problems;
}
