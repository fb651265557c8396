import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';

export const identityReads = ['identity_exchange'] as const satisfies readonly KindName[];

/** Tells who a queen recorded on a day really was: two queens found to have changed places answer for each other. */
export type WhoWas = (recorded: RecordId, on: Day | null) => RecordId;

function exchanged(
  { one, other, exchanged_on, noticed_on }: Row<'identity_exchange'>,
  id: RecordId,
  on: Day,
): RecordId {
  if (on < exchanged_on || on >= noticed_on) return id;
  if (id === one) return other;
  return id === other ? one : id;
}

/** Nothing recorded is overwritten: from the day of the exchange to the day it was noticed, each record is the other's. */
export async function gatherIdentity(facts: Facts): Promise<WhoWas> {
  const exchanges = await facts.find('identity_exchange');
  if (exchanges.length === 0) return (recorded) => recorded;
  return (recorded, on) => (on === null ? recorded : exchanges.reduce((id, each) => exchanged(each, id, on), recorded));
}
