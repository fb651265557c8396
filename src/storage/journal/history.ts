import type { HistoryOf, Journal, RecordedAct, RecordedChange } from '#ports/store.ts';
import type { KindName } from '#records/kinds.ts';
import type { Moment } from '#units/moment.ts';
import type { RecordId } from '#units/record-id.ts';
import { pieces, type Reader } from '../database.ts';
import { readParked } from './parking.ts';

const MOST_VALUES = 2_000;

type Undoing = { act: RecordId; undone: RecordId };

async function numbersOf(reader: Reader, of: HistoryOf): Promise<number[] | null> {
  if (of.records === undefined) return null;
  const numbers = new Set<number>();
  for (const piece of pieces(of.records, MOST_VALUES)) {
    const rows = await reader.selectFrom('change').select('seq').distinct().where('record', 'in', piece).execute();
    for (const { seq } of rows) numbers.add(Number(seq));
  }
  return [...numbers];
}

/** Which standing act stepped each act back. An act stands unless a standing act undoes it. */
function steppedBack(undoings: readonly Undoing[], order: ReadonlyMap<RecordId, number>): Map<RecordId, RecordId> {
  const by = new Map<RecordId, RecordId>();
  const newestFirst = [...undoings].sort((a, b) => (order.get(b.act) ?? 0) - (order.get(a.act) ?? 0));
  // Whether an undoing act stands is decided only by later acts, so newest first each is settled before it is used.
  for (const { act, undone } of newestFirst) if (!by.has(act) && !by.has(undone)) by.set(undone, act);
  return by;
}

/** Acts, oldest first. */
async function readActs(reader: Reader, of: HistoryOf): Promise<RecordedAct[]> {
  const columns = ['id', 'seq', 'name', 'input', 'who', 'device', 'done', 'recorded'] as const;
  const numbers = await numbersOf(reader, of);
  let query = reader.selectFrom('act').select(columns).orderBy('seq', 'desc');
  if (of.acts !== undefined) query = query.where('id', 'in', of.acts.length > 0 ? of.acts : ['']);
  if (of.steppingBack) query = query.where('id', 'in', reader.selectFrom('act_undoes').select('act'));
  if (of.after !== undefined) query = query.where('seq', '>', of.after);
  if (numbers !== null && numbers.length <= MOST_VALUES)
    query = query.where('seq', 'in', numbers.length > 0 ? numbers : [-1]);
  if (of.newest !== undefined && (numbers === null || numbers.length <= MOST_VALUES)) query = query.limit(of.newest);
  const rows = await query.execute();
  const wanted = numbers !== null && numbers.length > MOST_VALUES ? new Set(numbers) : null;
  const undoings = (await reader.selectFrom('act_undoes').selectAll().execute()) as Undoing[];
  const places =
    undoings.length === 0
      ? []
      : await reader
          .selectFrom('act')
          .select(['id', 'seq'])
          .where('id', 'in', reader.selectFrom('act_undoes').select('act'))
          .execute();
  const by = steppedBack(undoings, new Map(places.map(({ id, seq }) => [id as RecordId, Number(seq)])));
  const undone = new Map<RecordId, RecordId[]>();
  for (const each of undoings) undone.set(each.act, [...(undone.get(each.act) ?? []), each.undone]);
  return rows
    .filter(({ seq }) => wanted === null || wanted.has(Number(seq)))
    .slice(0, of.newest ?? rows.length)
    .reverse()
    .map((row) => ({
      id: row.id as RecordId,
      seq: Number(row.seq),
      name: String(row.name),
      input: JSON.parse(String(row.input)) as unknown,
      who: row.who as string | null,
      device: row.device as string | null,
      done: row.done as Moment,
      recorded: row.recorded as Moment,
      undoes: undone.get(row.id as RecordId) ?? [],
      steppedBackBy: by.get(row.id as RecordId) ?? null,
    }));
}

const image = (text: unknown): RecordedChange['before'] => (text === null ? null : JSON.parse(String(text)));

/** Changes of records, in the order they were made. `acts`, `steppingBack`, `records` and `kinds` narrow; `after` is a number of an act. */
export async function readChanges(reader: Reader, of: HistoryOf): Promise<RecordedChange[]> {
  const out: RecordedChange[] = [];
  const recordPieces = of.records === undefined ? [null] : pieces(of.records, MOST_VALUES);
  const actPieces = of.acts === undefined ? [null] : pieces(of.acts, MOST_VALUES);
  for (const records of recordPieces)
    for (const acts of actPieces) {
      let query = reader.selectFrom('change').selectAll();
      if (records !== null) query = query.where('record', 'in', records);
      if (acts !== null)
        query = query.where('seq', 'in', reader.selectFrom('act').select('seq').where('id', 'in', acts));
      if (of.steppingBack)
        query = query.where(
          'seq',
          'in',
          reader.selectFrom('act').select('seq').where('id', 'in', reader.selectFrom('act_undoes').select('act')),
        );
      if (of.kinds !== undefined) query = query.where('kind', 'in', of.kinds.length > 0 ? of.kinds : ['']);
      if (of.after !== undefined) query = query.where('seq', '>', of.after);
      for (const row of await query.execute())
        out.push({
          seq: Number(row.seq),
          kind: row.kind as KindName,
          record: row.record as RecordId,
          before: image(row.before),
          after: image(row.after),
        });
    }
  return out.sort((a, b) => a.seq - b.seq);
}

/** The journal as it reads over one connection or transaction. */
export const journalOver = (reader: Reader): Journal => ({
  acts: (of) => readActs(reader, of),
  changes: (of) => readChanges(reader, of),
  parked: () => readParked(reader),
});
