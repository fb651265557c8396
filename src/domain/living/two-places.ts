import type { Day } from '#units/calendar-day.ts';
import { doubt, type Problem } from '#units/problem.ts';
import type { Stay } from './stay.ts';

const placeOf = (stay: Stay): string => (stay.colony === null ? `cage ${stay.cage ?? ''}` : `colony ${stay.colony}`);
const surelyFrom = (stay: Stay): Day | null => stay.from?.latest ?? null;
const surelyTo = (stay: Stay): Day | null => stay.to?.earliest ?? null;

/** True when both stays surely held at one time for more than the day of moving. */
function overlapSurely(a: Stay, b: Stay): boolean {
  const startsBefore = (x: Stay, y: Stay) => {
    const from = surelyFrom(x);
    const to = surelyTo(y);
    return from === null || to === null || from < to;
  };
  return startsBefore(a, b) && startsBefore(b, a);
}

/**
 * Doubts a queen who was surely in two places at once: one stay should have ended, or two queens share a code. Uncertain ends
 * and the day of a move are given the benefit. `values`: the queen, the two places.
 */
export function queensInTwoPlaces(stays: readonly Stay[]): Problem<'queen-in-two-places'>[] {
  const byQueen = new Map<string, Stay[]>();
  for (const stay of stays) byQueen.set(stay.queen, [...(byQueen.get(stay.queen) ?? []), stay]);
  return [...byQueen.values()].flatMap((own) =>
    own.flatMap((a, i) =>
      own
        .slice(i + 1)
        .filter((b) => placeOf(a) !== placeOf(b) && overlapSurely(a, b))
        .map((b) => doubt('stays', 'queen-in-two-places', { queen: a.queen, one: placeOf(a), other: placeOf(b) })),
    ),
  );
}
