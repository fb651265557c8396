import type { Clock } from '#ports/clock.ts';
import type { Act, ParkedAct, Store } from '#ports/store.ts';
import type { Moment } from '#units/moment.ts';
import type { Problem } from '#units/problem.ts';
import type { Database, Reader } from '../database.ts';
import { patiently } from '../patiently.ts';

/** Keeps acts of devices that could not be done until a person decides. */
export const parkingOver = (db: Database, clock: Clock): Pick<Store, 'park'> => ({
  async park(act, problems) {
    const row = {
      id: act.id,
      content: JSON.stringify(act),
      problems: JSON.stringify(problems),
      received: clock.now(),
    };
    const insert = db.writer
      .insertInto('parked_act')
      .values(row)
      .onConflict((on) => on.column('id').doUpdateSet({ problems: row.problems }));
    await patiently(db, () => insert.execute());
  },
});

/** Every act that was parked, oldest first; whether it was done after all or let go is said by the acts and worries. */
export async function readParked(reader: Reader): Promise<ParkedAct[]> {
  const rows = await reader.selectFrom('parked_act').selectAll().execute();
  return rows
    .map(({ content, problems, received }) => ({
      act: JSON.parse(String(content)) as Act,
      problems: JSON.parse(String(problems)) as Problem[],
      received: received as Moment,
    }))
    .sort((a, b) => (a.act.id < b.act.id ? -1 : 1));
}
