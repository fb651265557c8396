import type { Facts } from '#ports/store.ts';
import type { KindName } from '#records/kinds.ts';
import type { Reader } from './database.ts';

/** A thing made of a book that ended with this act. */
type Lasting = { seq: number; act: string; value: unknown };

type LastAct = Pick<Lasting, 'seq' | 'act'>;

async function lastAct(tx: Reader): Promise<LastAct> {
  const row = await tx.selectFrom('act').select(['seq', 'id']).orderBy('seq', 'desc').limit(1).executeTakeFirst();
  return { seq: Number(row?.seq ?? 0), act: String(row?.id ?? '') };
}

/** Whether the book read here is the one the thing was made of, or has only grown by acts that touched none of these kinds. */
async function stillStands(tx: Reader, made: Lasting, last: LastAct, kinds: readonly KindName[]): Promise<boolean> {
  if (made.seq === last.seq) return made.act === last.act;
  if (made.seq > last.seq) return false;
  // The act of that number is another one where the book was exchanged for a copy of itself.
  const same = await tx.selectFrom('act').select('id').where('seq', '=', made.seq).executeTakeFirst();
  if (String(same?.id ?? '') !== made.act) return false;
  const touched = tx.selectFrom('change').select('seq').where('seq', '>', made.seq).where('kind', 'in', kinds).limit(1);
  return (await touched.executeTakeFirst()) === undefined;
}

/** Keeps of one book the newest of each thing that lasts: {@link Facts.lasting} for each snapshot. */
export function keepLasting(): (snapshot: Reader) => Facts['lasting'] {
  const kept = new Map<string, Lasting>();
  return (snapshot) => async (name, kinds, make) => {
    const last = await lastAct(snapshot);
    const made = kept.get(name);
    const keep = (value: unknown) => {
      if ((kept.get(name)?.seq ?? 0) <= last.seq) kept.set(name, { ...last, value });
    };
    type Made = Awaited<ReturnType<typeof make>>;
    if (made !== undefined && (await stillStands(snapshot, made, last, kinds))) {
      keep(made.value);
      return made.value as Made;
    }
    const value = await make(made === undefined ? null : (made.value as Made));
    keep(value);
    return value;
  };
}
