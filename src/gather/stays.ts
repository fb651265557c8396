import type { DaySpan } from '#domain/living/day-span.ts';
import type { Stay } from '#domain/living/stay.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { gatherIdentity, identityReads } from './identity.ts';

export const stayReads = [...identityReads, 'stay'] as const satisfies readonly KindName[];

/** Two ends of a doubtful day; one end alone is that day. */
function spanOf(earliest: Day | null, latest: Day | null): DaySpan | null {
  const first = earliest ?? latest;
  const last = latest ?? earliest;
  return first === null || last === null ? null : { earliest: first, latest: last };
}

const asStay = (row: Row<'stay'>): Stay => ({
  queen: row.queen,
  colony: row.colony,
  cage: row.cage,
  role: row.role ?? (row.colony === null ? 'caged' : 'heads'),
  from: spanOf(row.from_earliest, row.from_latest),
  to: spanOf(row.to_earliest, row.to_latest),
});

/** Every stay, each with the queen who was really there. */
export async function gatherStays(facts: Facts): Promise<Stay[]> {
  const whoWas = await gatherIdentity(facts);
  const rows = await facts.find('stay');
  return rows.map((row) => asStay({ ...row, queen: whoWas(row.queen, row.from_earliest ?? row.from_latest) }));
}
