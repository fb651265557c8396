import type { Change } from '#ports/store.ts';
import { type Entry, type KindName, kinds, newRow } from '#records/kinds.ts';
import type { RecordId } from '#units/record-id.ts';
import { type Action, action, type Place } from './action.ts';

/** The change that makes a new record of a kind. */
export function creating<N extends KindName>(kind: N, id: RecordId, entry: Entry<N>): Change {
  return { kind, id, create: newRow(kind, id, entry) } as unknown as Change;
}

/** The change of some fields of a record. */
export const setting = <N extends KindName>(kind: N, id: RecordId, set: Partial<Entry<N>>): Change =>
  ({ kind, id, set }) as unknown as Change;

/** The change that removes a record. */
export const dropping = (kind: KindName, id: RecordId): Change => ({ kind, id, drop: true }) as Change;

/** An action that writes down one record of a kind as it was entered; its result is the id. */
export function recording<N extends KindName>(
  kind: N,
  { name, place, what }: { name: string; place: Place; what: string },
): Action<Entry<N>, { id: RecordId }, undefined> {
  return action<Entry<N>, { id: RecordId }, undefined>({
    name,
    place,
    what,
    input: kinds[kind].entry as unknown as Action<Entry<N>>['input'],
    async run(input, { newId }) {
      const id = newId();
      return { changes: [creating(kind, id, input)], result: { id } };
    },
  });
}
