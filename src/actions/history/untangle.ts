import type { RecordedAct, RecordedChange } from '#ports/store.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';

/** The fields a change wrote: every field of a record it made or removed. */
const fieldsOf = (change: RecordedChange): string[] => Object.keys(change.after ?? change.before ?? {});

const isWholeRecord = (change: RecordedChange): boolean => change.before === null || change.after === null;

/** True when two changes of one record touch something in common. */
function overlap(earlier: RecordedChange, later: RecordedChange): boolean {
  if (earlier.record !== later.record || earlier.kind !== later.kind) return false;
  if (isWholeRecord(earlier) || isWholeRecord(later)) return true;
  const fields = new Set(fieldsOf(earlier));
  return fieldsOf(later).some((field) => fields.has(field));
}

/**
 * Acts that still count after `seq`: those that stand, without the ones that only undo acts that are themselves later
 * (such a pair has left nothing behind).
 */
function counting(acts: readonly RecordedAct[], seq: number): RecordedAct[] {
  const later = acts.filter((each) => each.seq > seq);
  const ids = new Set(later.map(({ id }) => id));
  return later.filter(
    ({ steppedBackBy, undoes }) =>
      steppedBackBy === null && !(undoes.length > 0 && undoes.every((undone) => ids.has(undone))),
  );
}

/**
 * Acts that must be stepped back before (or with) `targets`, because they changed the same fields of the same records
 * later and still count.
 * @param acts every act that touched any of the records, oldest first
 * @param changes every change of those records, in order
 */
export function builtOn(
  targets: ReadonlySet<RecordId>,
  acts: readonly RecordedAct[],
  changes: readonly RecordedChange[],
): RecordedAct[] {
  const bySeq = groupBy(changes, ({ seq }) => seq);
  const found = new Map<RecordId, RecordedAct>();
  for (const target of acts.filter(({ id }) => targets.has(id))) {
    const mine = bySeq.get(target.seq) ?? [];
    for (const act of counting(acts, target.seq)) {
      if (targets.has(act.id)) continue;
      const theirs = bySeq.get(act.seq) ?? [];
      if (theirs.some((later) => mine.some((earlier) => overlap(earlier, later)))) found.set(act.id, act);
    }
  }
  return [...found.values()];
}

/** What one record must become again: gone (`null`), made again whole, or some fields put back. */
export type Restored = {
  kind: RecordedChange['kind'];
  record: RecordId;
  to: null | { whole: Readonly<Record<string, unknown>> } | { fields: Readonly<Record<string, unknown>> };
};

/** Takes changes back, newest first, and sums up what each record must become. */
export function takenBack(changes: readonly RecordedChange[]): Restored[] {
  const newestFirst = [...changes].sort((a, b) => b.seq - a.seq);
  const out = new Map<string, Restored>();
  for (const { kind, record, before, after } of newestFirst) {
    const key = `${kind} ${record}`;
    const known = out.get(key);
    if (before === null) out.set(key, { kind, record, to: null });
    else if (after === null) out.set(key, { kind, record, to: { whole: before } });
    else if (known?.to !== null && known?.to !== undefined && 'whole' in known.to)
      out.set(key, { kind, record, to: { whole: { ...known.to.whole, ...before } } });
    else {
      const fields = known?.to !== null && known?.to !== undefined && 'fields' in known.to ? known.to.fields : {};
      out.set(key, { kind, record, to: { fields: { ...fields, ...before } } });
    }
  }
  return [...out.values()];
}
