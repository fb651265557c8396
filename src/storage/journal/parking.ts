import type { Clock } from '#ports/clock.ts';
import type { Act, ParkedAct, Store } from '#ports/store.ts';
import type { Moment } from '#units/moment.ts';
import type { Problem } from '#units/problem.ts';
import type { Database, Reader } from '../database.ts';
import { patiently } from '../patiently.ts';

/** Acts of devices that could not be done and wait for a person. */
export const parkingOver = (db: Database, clock: Clock): Pick<Store, 'park' | 'settleParked'> => ({
  async park(act, problems) {
    const row = {
      id: act.id,
      content: JSON.stringify(act),
      problems: JSON.stringify(problems),
      received: clock.now(),
      settled: null,
    };
    const insert = db.writer
      .insertInto('parked_act')
      .values(row)
      .onConflict((on) => on.column('id').doUpdateSet({ problems: row.problems }));
    await patiently(db, () => insert.execute());
  },
  async settleParked(id) {
    const settle = db.writer.updateTable('parked_act').set({ settled: clock.now() }).where('id', '=', id);
    await patiently(db, () => settle.execute());
  },
});

/** Parked acts nobody has decided on, oldest first. */
export async function readParked(reader: Reader): Promise<ParkedAct[]> {
  const rows = await reader.selectFrom('parked_act').selectAll().where('settled', 'is', null).execute();
  return rows
    .map(({ content, problems, received }) => ({
      act: JSON.parse(String(content)) as Act,
      problems: JSON.parse(String(problems)) as Problem[],
      received: received as Moment,
    }))
    .sort((a, b) => (a.act.id < b.act.id ? -1 : 1));
}
