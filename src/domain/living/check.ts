import type { Day } from '#units/calendar-day.ts';

/** What can be seen in a nuc or colony. */
export type Sight =
  | 'no-eggs'
  | 'eggs'
  | 'several-in-a-cell'
  | 'worker-caps'
  | 'drone-caps'
  | 'queen-cells'
  | 'another-queen'
  | 'queen-gone'
  | 'own-workers'
  | 'not-opened';

/** Whether she herself was seen: by her mark, an unmarked queen, another one (other disc), or nobody. */
export type QueenSeen = 'seen' | 'unmarked' | 'other' | 'not-seen';

/** One look at a queen's nuc. `queenSeen` null: nobody said. */
export type LayingCheck = { day: Day; sights: readonly Sight[]; queenSeen: QueenSeen | null };

/** Checks in the order of their days; on one day as written. The list given is left as it is. */
export const inOrder = (checks: readonly LayingCheck[]): LayingCheck[] =>
  [...checks].sort((a, b) => (a.day < b.day ? -1 : Number(a.day > b.day)));

/** True when another queen than her was found. */
export const isAnother = (check: LayingCheck): boolean =>
  check.sights.includes('another-queen') || check.queenSeen === 'other' || check.queenSeen === 'unmarked';

/** True when the look proves that she lived that day: she was seen, or fresh eggs were, and no other queen. */
export const provesAlive = (check: LayingCheck): boolean =>
  !isAnother(check) &&
  !check.sights.includes('queen-gone') &&
  (check.queenSeen === 'seen' || check.sights.includes('eggs'));
