/** What the kinship of two queens costs on a running book: asked first, asked again, and after one queen more and one mating corrected. */

import type { Change } from '#ports/store.ts';
import { ask } from '#questions/mechanism/ask.ts';
import { kinshipOfTwo } from '#questions/stock/kinship.ts';
import { rowOf } from '#records/kind.ts';
import { kinds } from '#records/kinds.ts';
import type { RecordId } from '#units/record-id.ts';
import { simulateColumns } from '../../bench/_stock.ts';
import { databases, noon } from '../../tests/support/databases.ts';
import { does, newId, portsOver } from '../../tests/support/doing.ts';

/** A book of `count` queens, each inseminated with drones of one mother. */
async function bookOf(count: number) {
  const on = await databases[0]?.fresh();
  if (on === undefined) throw new Error('no database');
  const { dam, sourceRef, sourceDrones, carries } = simulateColumns({ queens: count, mating: 'own' });
  const ids = Array.from({ length: count }, newId);
  const changes: Change[] = [];
  for (const [i, id] of ids.entries()) {
    const mother = ids[dam[i] as number] ?? null;
    changes.push({ kind: 'queen', id, create: rowOf(kinds.queen, id, { code: `Q${i}`, dam: mother }) });
  }
  for (const [i, queen] of ids.entries()) {
    const [insemination, source] = [newId(), newId()];
    const pool = carries[i] as number;
    const drones = sourceDrones[pool] as number;
    const given = { queen, day: '2027-06-12' as never, done: 1 as const, drones };
    changes.push({ kind: 'insemination', id: insemination, create: rowOf(kinds.insemination, insemination, given) });
    const of = { insemination, queen: ids[sourceRef[pool] as number] as RecordId, share: 1 };
    changes.push({ kind: 'insemination_source', id: source, create: rowOf(kinds.insemination_source, source, of) });
  }
  await on.store.act({ id: newId(), name: 'a-stock', input: {}, done: noon }, async (book) => {
    await book.write(changes);
    return { result: null, warnings: [] };
  });
  return { on, ids };
}

async function timed<T>(what: string, work: () => Promise<T>): Promise<T> {
  const from = performance.now();
  const done = await work();
  console.log(`  ${what}: ${(performance.now() - from).toFixed(0)} ms`);
  return done;
}

for (const count of [5_000, 50_000]) {
  console.log(`${count} queens`);
  const { on, ids } = await bookOf(count);
  const ports = portsOver(on.store);
  const pair = { a: ids.at(-1), b: ids.at(-7) };
  const asked = () => ask(kinshipOfTwo, pair, ports);
  await timed('asked first', asked);
  await timed('asked again', asked);
  await timed('(one queen more is written)', () =>
    does(on.store, 'record-queen', { queen: { code: 'new', dam: ids.at(-2) } }),
  );
  await timed('asked after it', asked);
  await timed('asked again', asked);
  await on.end();
}
