import type { PlannedQueen } from '#domain/stock-book/plan.ts';
import type { Book, Change } from '#ports/store.ts';
import type { RecordId } from '#units/record-id.ts';
import { creating } from '../mechanism/recording.ts';

/** Words for small colonies in six languages: a hive called so is a nuc. */
const NUC = /\b(nuc|ewk|mini|begattung\w*|ableger|nucl[eé]o|nucl[eé]us|ruchette|odk[lł]ad|ulik)/i;

/** Names of a kind as they are found or made: each once. */
export type Named = { idOf: (name: string) => RecordId; changes: Change[] };

/** Finds records by name, and makes those there are none of. */
export function named(
  known: ReadonlyMap<string, RecordId>,
  make: (name: string) => { id: RecordId; changes: Change[] },
): Named {
  const ids = new Map(known);
  const changes: Change[] = [];
  return {
    changes,
    idOf(name) {
      const found = ids.get(name);
      if (found !== undefined) return found;
      const made = make(name);
      ids.set(name, made.id);
      changes.push(...made.changes);
      return made.id;
    },
  };
}

/** Names already in the book; where one stands twice the first is taken. */
export const byName = <T extends { id: RecordId }>(
  rows: readonly T[],
  nameOf: (row: T) => string,
): Map<string, RecordId> => {
  const names = new Map<string, RecordId>();
  for (const row of rows) if (!names.has(nameOf(row))) names.set(nameOf(row), row.id);
  return names;
};

type Ids = { book: Book; newId(): RecordId };

/** Yards and hives of the sheet, found in the book or made. A hive is known by its name and its yard. */
export async function placesOf({
  book,
  newId,
}: Ids): Promise<{ yards: Named; hives: Named; keyOfHive: (hive: string, yard: string | null) => string }> {
  const yards = named(
    byName(await book.find('yard'), ({ name }) => name),
    (name) => {
      const id = newId();
      return { id, changes: [creating('yard', id, { name })] };
    },
  );
  const yardOf = new Map(
    (await book.find('colony_place', { stood_to: null })).map(({ colony, yard }) => [colony, yard]),
  );
  const nameOfYard = new Map((await book.find('yard')).map(({ id, name }) => [id, name]));
  const keyOfHive = (hive: string, yard: string | null) => `${yard ?? ''}\u0000${hive}`;
  const known = byName(await book.find('colony', { ended: null }), ({ id, code }) => {
    const yard = yardOf.get(id);
    return keyOfHive(code, yard === undefined ? null : (nameOfYard.get(yard) ?? null));
  });
  const hives = named(known, (key) => {
    const [yard = '', code = ''] = key.split('\u0000');
    const id = newId();
    const stands = yard === '' ? [] : [creating('colony_place', newId(), { colony: id, yard: yards.idOf(yard) })];
    return { id, changes: [creating('colony', id, { code, form: NUC.test(code) ? 'nuc' : 'full' }), ...stands] };
  });
  return { yards, hives, keyOfHive };
}

/** The hive of a queen as its key; `null` when none is said. */
export const hiveOf = ({ draft }: PlannedQueen, keyOf: (hive: string, yard: string | null) => string): string | null =>
  draft?.hive == null ? null : keyOf(draft.hive, draft.yard);
