import { queenMeant } from '#domain/living/identity.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';

export const identityReads = ['identity_exchange'] as const satisfies readonly KindName[];

/** Tells who a queen recorded on a day really was: two queens found to have changed places answer for each other. */
export type WhoWas = (recorded: RecordId, on: Day | null) => RecordId;

/** Nothing recorded is overwritten: from the day of the exchange to the day it was noticed, each record is the other's. */
export async function gatherIdentity(facts: Facts): Promise<WhoWas> {
  const rows = await facts.find('identity_exchange');
  if (rows.length === 0) return (recorded) => recorded;
  const exchanges = rows.map(({ one, other, exchanged_on, noticed_on }) => ({
    one,
    other,
    exchanged: exchanged_on,
    noticed: noticed_on,
  }));
  return (recorded, on) => queenMeant(recorded, on, exchanges) as RecordId;
}
