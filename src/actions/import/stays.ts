import type { PlannedQueen } from '#domain/stock-book/plan.ts';
import type { Change } from '#ports/store.ts';
import { addDays, type Day, earlierOf, laterOf } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { creating } from '../mechanism/recording.ts';

/** A queen of the sheet, who she became, and the hive she is written beside. */
export type Placed = { queen: PlannedQueen; id: RecordId; hive: RecordId };

const bornOf = ({ draft }: PlannedQueen): Day | null => draft?.emerged?.day ?? null;
const order = ({ queen }: Placed): string => bornOf(queen) ?? `${queen.draft?.year ?? 0}`;

/** The first day she can have been there, as far as the sheet tells: when she emerged, else the beginning of her year. */
const firstDay = (queen: PlannedQueen): Day | null =>
  bornOf(queen) ?? (queen.draft?.year == null ? null : (`${queen.draft.year}-01-01` as Day));

/**
 * Stays from what a sheet says of hives. The youngest queen of a hive without an end is there still; those before her left some time
 * between their own beginning and hers. A queen who ended left by that day; where no day is written, some time before the import.
 */
export function staysOf(placed: readonly Placed[], { day, newId }: { day: Day; newId(): RecordId }): Change[] {
  return [...groupBy(placed, ({ hive }) => hive).values()].flatMap((ofHive) => {
    const inOrder = [...ofHive].sort((a, b) => (order(a) < order(b) ? -1 : 1));
    return inOrder.map(({ queen, id, hive }, i): Change => {
      const from = bornOf(queen);
      const next = inOrder[i + 1];
      const start = firstDay(queen);
      const begun = start === null ? null : earlierOf(start, day);
      const gone = queen.draft?.fate ?? null;
      const until = gone?.on ?? (gone !== null ? day : next === undefined ? null : (bornOf(next.queen) ?? day));
      const latest = until === null ? null : begun === null ? until : laterOf(begun, until);
      const earliest = gone?.on ?? (latest === null ? null : (begun ?? addDays(latest, -1)));
      return creating('stay', newId(), {
        queen: id,
        colony: hive,
        role: 'heads',
        from_earliest: from,
        from_latest: from,
        to_earliest: earliest,
        to_latest: latest,
      });
    });
  });
}
