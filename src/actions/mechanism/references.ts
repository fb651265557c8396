import type { Book, Change } from '#ports/store.ts';
import { isKindName, type KindName, kindNames, referencesOf } from '#records/kinds.ts';
import { type Problem, refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';

type Pointing = { field: string; to: string; at: RecordId; from: Change };

function fieldsOf(change: Change): Readonly<Record<string, unknown>> {
  if ('create' in change) return change.create;
  return 'set' in change ? change.set : {};
}

/** Every reference a list of changes writes. A reference to any kind is read with its `about_kind`. */
function pointings(changes: readonly Change[]): Pointing[] {
  return changes.flatMap((from) => {
    const fields = fieldsOf(from);
    return referencesOf(from.kind).flatMap(({ field, to }) => {
      const at = fields[field];
      if (typeof at !== 'string') return [];
      return [{ field, to: to === '*' ? String(fields.about_kind) : to, at: at as RecordId, from }];
    });
  });
}

const key = (kind: string, id: string) => `${kind} ${id}`;

/** Problems for every reference to a record that is neither in the book nor made by the same act. */
export async function unknownReferences(book: Book, changes: readonly Change[]): Promise<Problem[]> {
  const made = new Set(changes.filter((change) => 'create' in change).map(({ kind, id }) => key(kind, id)));
  const wanted = pointings(changes).filter(({ to, at }) => !made.has(key(to, at)));
  const byKind = new Map<string, Set<RecordId>>();
  for (const { to, at } of wanted) byKind.set(to, (byKind.get(to) ?? new Set()).add(at));
  const missing = new Set<string>();
  for (const [kind, ids] of byKind) {
    const found = isKindName(kind) ? await book.find(kind, { id: [...ids] } as object) : [];
    const there = new Set(found.map(({ id }) => id));
    for (const id of ids) if (!there.has(id)) missing.add(key(kind, id));
  }
  return wanted
    .filter(({ to, at }) => missing.has(key(to, at)))
    .map(({ field, to, at }) => refuse(field, 'unknown-record', { kind: to, id: at }));
}

/** A record that points at one of the given records. */
export type User = { kind: KindName; id: RecordId; field: string; uses: RecordId };

/** Records in the book that point at any of `ids` of `kind`. */
export async function usersOf(book: Book, kind: KindName, ids: readonly RecordId[]): Promise<User[]> {
  const users: User[] = [];
  for (const from of kindNames)
    for (const { field, to } of referencesOf(from)) {
      if (to !== kind && to !== '*') continue;
      const where = { [field]: ids, ...(to === '*' ? { about_kind: kind } : {}) };
      for (const row of await book.find(from, where as object)) {
        const uses = (row as unknown as Record<string, RecordId>)[field];
        if (uses !== undefined) users.push({ kind: from, id: row.id, field, uses });
      }
    }
  return users;
}

/** Problems for every record that would be left pointing at one that the changes drop. */
export async function stillUsed(book: Book, changes: readonly Change[]): Promise<Problem[]> {
  const dropped = changes.filter((change) => 'drop' in change);
  const gone = new Set(dropped.map(({ kind, id }) => key(kind, id)));
  const problems: Problem[] = [];
  for (const kind of new Set(dropped.map((change) => change.kind))) {
    const ids = dropped.filter((change) => change.kind === kind).map(({ id }) => id);
    for (const user of await usersOf(book, kind, ids))
      if (!gone.has(key(user.kind, user.id)))
        problems.push(refuse('', 'still-used', { kind, id: user.uses, by: user.kind, user: user.id }));
  }
  return problems;
}
