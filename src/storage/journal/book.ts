import type { Book, Change, Touched } from '#ports/store.ts';
import { type KindName, kinds } from '#records/kinds.ts';
import type { RecordId } from '#units/record-id.ts';
import { breathe, pieces, type Reader } from '../database.ts';
import { factsOver } from '../facts.ts';
import { journalOver } from './history.ts';

type StoredRow = Readonly<Record<string, unknown>>;
type Images = { before: StoredRow | null; now: StoredRow | null };

/** Rows written between two moments in which other work may run. */
const BETWEEN_BREATHS = 200;
/** Values bound in one insert: below the limit of both databases. */
const MOST_BOUND = 20_000;

/** A {@link Book} that also knows what every touched record was before. */
export type WritingBook = Book & { images(): ReadonlyMap<KindName, ReadonlyMap<RecordId, Images>> };

/** Thrown when our own code asks for an impossible change: a new record that exists, or a change of one that does not. */
class ImpossibleChange extends Error {}

function checkFields(kind: KindName, fields: object): void {
  for (const field of Object.keys(fields))
    if (!Object.hasOwn(kinds[kind].fields, field)) throw new ImpossibleChange(`${kind} has no field ${field}`);
}

function applied(change: Change, now: StoredRow | null): StoredRow | null {
  if ('drop' in change) return null;
  if ('create' in change) {
    if (now !== null) throw new ImpossibleChange(`${change.kind} ${change.id} exists already`);
    return change.create;
  }
  if (now === null) throw new ImpossibleChange(`${change.kind} ${change.id} does not exist`);
  checkFields(change.kind, change.set);
  return { ...now, ...change.set };
}

function listIn<K, V>(lists: Map<K, V[]>, key: K): V[] {
  const list = lists.get(key) ?? [];
  lists.set(key, list);
  return list;
}

/** Opens the book of one act inside its transaction. */
export function bookOver(tx: Reader): WritingBook {
  const images = new Map<KindName, Map<RecordId, Images>>();

  async function remember(changes: readonly Change[]): Promise<void> {
    const unknown = new Map<KindName, RecordId[]>();
    for (const { kind, id } of changes) {
      const known = images.get(kind) ?? new Map<RecordId, Images>();
      images.set(kind, known);
      if (known.has(id)) continue;
      known.set(id, { before: null, now: null });
      listIn(unknown, kind).push(id);
    }
    for (const [kind, ids] of unknown)
      for (const row of await factsOver(tx).find(kind, { id: ids } as object))
        images.get(kind)?.set(row.id, { before: row, now: row });
  }

  async function write(changes: readonly Change[]): Promise<void> {
    await remember(changes);
    const fresh = new Map<KindName, StoredRow[]>();
    let since = 0;
    const insertFresh = async () => {
      for (const [kind, rows] of fresh) {
        const width = Object.keys(kinds[kind].fields).length + 1;
        for (const piece of pieces(rows, Math.min(BETWEEN_BREATHS, Math.floor(MOST_BOUND / width)))) {
          await tx.insertInto(kind).values(piece).execute();
          await breathe();
        }
      }
      fresh.clear();
    };
    for (const change of changes) {
      const image = images.get(change.kind)?.get(change.id);
      if (image === undefined) throw new Error('unreachable: every changed record was remembered');
      const now = applied(change, image.now);
      if ('create' in change) listIn(fresh, change.kind).push(change.create);
      else {
        await insertFresh();
        const at = ['id', '=', change.id] as const;
        if ('drop' in change)
          await tx
            .deleteFrom(change.kind)
            .where(...at)
            .execute();
        else if (Object.keys(change.set).length > 0)
          await tx
            .updateTable(change.kind)
            .set(change.set as StoredRow)
            .where(...at)
            .execute();
        since = (since + 1) % BETWEEN_BREATHS;
        if (since === 0) await breathe();
      }
      image.now = now;
    }
    await insertFresh();
  }

  return {
    ...factsOver(tx),
    write,
    images: () => images,
    touched: () => touchedBy(images),
    ...journalOver(tx),
  };
}

function touchedBy(images: WritingBook['images'] extends () => infer M ? M : never): Touched {
  return [...images].map(([kind, records]) => ({ kind, ids: [...records.keys()] }));
}
