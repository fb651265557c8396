import type { DaySpan } from '#domain/living/day-span.ts';
import type { BiologyProfile } from '#domain/rearing/profile.ts';
import type { Row } from '#records/kinds.ts';
import { addDays, type Day, earlierOf, laterOf } from '#units/calendar-day.ts';

/** Days a nest takes to lay a drone comb once it has begun, where nobody wrote when it was done: common practice. */
const LAID_WITHIN = 3;

/** A stretch of life as days, and whether its days were seen, or counted on from what was seen. */
export type Stretch = { from: Day; to: Day; seen: boolean };

const counted = (from: Day, to: Day): Stretch => ({ from, to, seen: false });

/** When a drone comb was laid and when its drones emerge; `null` when nothing is written to count from. */
export function combDays(
  comb: Row<'drone_comb'>,
  { timings }: BiologyProfile,
): { laid: Stretch; emerged: Stretch } | null {
  const brood = timings.droneEggToEmergence.value;
  const begun =
    comb.laid_from ??
    (comb.in_on === null ? null : addDays(comb.in_on, timings.combLead.value)) ??
    (comb.emerged_from === null ? null : addDays(comb.emerged_from, -brood));
  if (begun === null) return null;
  const done =
    comb.laid_to ?? (comb.emerged_to === null ? addDays(begun, LAID_WITHIN) : addDays(comb.emerged_to, -brood));
  const laid = { from: begun, to: laterOf(begun, done), seen: comb.laid_from !== null };
  if (comb.emerged_from === null) return { laid, emerged: counted(addDays(laid.from, brood), addDays(laid.to, brood)) };
  const last = comb.emerged_to ?? laterOf(comb.emerged_from, addDays(laid.to, brood));
  return { laid, emerged: { from: comb.emerged_from, to: last, seen: true } };
}

/** When the queens of a bar emerge: as seen at its cells, else 12 days after the graft (11-13 by the profile). */
export function graftDays(
  graft: Pick<Row<'graft'>, 'day'>,
  cells: readonly Pick<Row<'graft_cell'>, 'emerged_on'>[],
  { timings }: BiologyProfile,
): { emerged: Stretch; earliest: Day } {
  const { value, low } = timings.graftToEmergence;
  const seen = cells.flatMap(({ emerged_on }) => (emerged_on === null ? [] : [emerged_on]));
  const earliest = addDays(graft.day, low);
  if (seen.length === 0) return { emerged: counted(addDays(graft.day, value), addDays(graft.day, value)), earliest };
  return { emerged: { from: seen.reduce(earlierOf), to: seen.reduce(laterOf), seen: true }, earliest };
}

/** A stretch as the span of days `domain/living` reckons with. */
export const spanOf = ({ from, to }: Stretch): DaySpan => ({ earliest: from, latest: to });
