import type { Clock } from '#ports/clock.ts';
import type { KeptBytes, News, Store, Touched } from '#ports/store.ts';
import type { KindName } from '#records/kinds.ts';
import type { RecordId } from '#units/record-id.ts';
import type { Database, Reader } from './database.ts';
import { factsOver, narrowed } from './facts.ts';
import { journalOver, readChanges } from './journal/history.ts';
import { parkingOver } from './journal/parking.ts';
import { newsOf, writeAct } from './journal/write-act.ts';
import { keepLasting } from './lasting.ts';
import { migrate } from './migrate.ts';
import { patiently } from './patiently.ts';

async function lastSeq(db: Database['reader']): Promise<number> {
  const row = await db
    .selectFrom('act')
    .select((e) => e.fn.max('seq').as('last'))
    .executeTakeFirst();
  return Number(row?.last ?? 0);
}

/** What acts after number `seq` touched, told as news: used when another process wrote. */
async function newsSince(db: Database, seq: number): Promise<News | null> {
  const changes = await readChanges(db.reader, { after: seq });
  const last = await lastSeq(db.reader);
  if (last <= seq) return null;
  const kinds = new Map<KindName, RecordId[]>();
  for (const { kind, record } of changes) kinds.set(kind, [...(kinds.get(kind) ?? []), record]);
  const touched: Touched = [...kinds].map(([kind, ids]) => ({ kind, ids }));
  return { seq: last, touched };
}

/** Kept bytes over one connection or transaction. */
const keptBytesOver = (reader: Reader): KeptBytes => ({
  async bytes(hash) {
    const row = await reader.selectFrom('bytes_kept').selectAll().where('hash', '=', hash).executeTakeFirst();
    return row === undefined ? null : { form: String(row.form), bytes: new Uint8Array(row.bytes as Uint8Array) };
  },
});

/** Acts and questions that have begun: closing waits until all have ended, well or not. */
function underWay() {
  const begun = new Set<Promise<unknown>>();
  const waitedFor = <T>(work: Promise<T>): Promise<T> => {
    const ended: Promise<unknown> = work.then(
      () => begun.delete(ended),
      () => begun.delete(ended),
    );
    begun.add(ended);
    return work;
  };
  const allEnded = async () => {
    while (begun.size > 0) await Promise.all(begun);
  };
  return { waitedFor, allEnded };
}

export type StoreOptions = {
  clock: Clock;
  /** A new name for the database, used when it is made. */
  epoch: string;
  /** Called before an existing database is brought to a newer schema: makes the safe copy. */
  beforeMigration?: () => Promise<void>;
};

/** The store over an opened database, brought to this program's schema. Throws `CannotOpen` when that is impossible. */
export async function storeOver(db: Database, options: StoreOptions): Promise<Store> {
  await migrate(db, options.epoch, options.beforeMigration ?? (async () => {}));
  const listeners = new Set<(news: News) => void>();
  let told = await lastSeq(db.reader);
  const tell = (news: News) => {
    if (news.seq <= told) return;
    told = news.seq;
    for (const heard of listeners) heard(news);
  };
  const stopWatching = db.onForeignWrite(() => {
    newsSince(db, told).then(
      (news) => news && tell(news),
      () => {},
    );
  });
  const { waitedFor, allEnded } = underWay();
  const parking = parkingOver(db, options.clock);
  const lastingIn = keepLasting();
  const factsIn = (tx: Reader) => ({ ...factsOver(tx), lasting: lastingIn(tx) });
  return {
    read: (kinds, ask) =>
      waitedFor(
        db.reader.transaction().execute(async (tx) => {
          await db.beginReading(tx);
          return {
            answer: await ask({ ...narrowed(factsIn(tx), kinds), ...journalOver(tx), ...keptBytesOver(tx) }),
            seq: await lastSeq(tx),
          };
        }),
      ),
    act(act, body) {
      const doing = writeAct({ db, act, body, recorded: options.clock.now() }).then(async (done) => {
        const news = newsOf(done);
        // A gap in the numbers: another process wrote in between and has not been noticed yet.
        if (news !== null) tell(news.seq === told + 1 ? news : ((await newsSince(db, told)) ?? news));
        return done;
      });
      return waitedFor(doing);
    },
    seq: () => lastSeq(db.reader),
    ...journalOver(db.reader),
    park: (act, problems) => waitedFor(parking.park(act, problems)),
    keepBytes(hash, form, bytes) {
      const insert = db.writer
        .insertInto('bytes_kept')
        .values({ hash, form, bytes: Buffer.from(bytes) })
        .onConflict((on) => on.column('hash').doNothing());
      return waitedFor(patiently(db, async () => void (await insert.execute())));
    },
    ...keptBytesOver(db.reader),
    async epoch() {
      const row = await db.reader.selectFrom('meta').select('value').where('name', '=', 'epoch').executeTakeFirst();
      return String(row?.value ?? '');
    },
    listen(heard) {
      listeners.add(heard);
      return () => listeners.delete(heard);
    },
    async close() {
      stopWatching();
      await allEnded();
      await db.close();
    },
  };
}
