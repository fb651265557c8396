import type { CombSeen, RaisedSoFar } from '#domain/rearing/reality/as-raised.ts';
import type { Facts } from '#ports/store.ts';
import type { Row } from '#records/kinds.ts';
import { addDays } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';

/** Days a nest takes to lay a drone comb once it has begun, where nobody wrote when it was done: common practice. */
const LAID_WITHIN = 3;

/** A comb as it was seen: first and last eggs, where they were written down. */
export const combSeen = ({ in_on, laid_from, laid_to }: Row<'drone_comb'>): CombSeen => ({
  in: in_on,
  laid: laid_from === null ? null : { from: laid_from, to: laid_to ?? addDays(laid_from, LAID_WITHIN) },
});

/** Bars and combs written down for this cross alone. */
export async function raisedFor(facts: Facts, cross: RecordId): Promise<RaisedSoFar> {
  const grafts = await facts.find('graft', { cross });
  const combs = await facts.find('drone_comb', { cross });
  return { grafted: grafts.map(({ day }) => day), combs: combs.map(combSeen) };
}
