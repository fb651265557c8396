import type { Facts, Reads, Where } from '#ports/store.ts';
import { type KindName, kinds, type Row } from '#records/kinds.ts';
import type { RecordId } from '#units/record-id.ts';
import { breathe, pieces, type Reader } from './database.ts';

/** Values a condition may hold before it is asked in pieces (SQLite binds at most 32,766). */
const MOST_VALUES = 2_000;
/** Records read at once after which other work gets its turn. */
const MANY = 500;

type Conditions = [column: string, value: unknown][];

function conditionsOf<N extends KindName>(kind: N, where: Where<N>): Conditions {
  return Object.entries(where).map(([column, value]) => {
    if (column !== 'id' && !Object.hasOwn(kinds[kind].fields, column))
      throw new Error(`${kind} has no field ${column}`);
    return [column, value];
  });
}

function select(reader: Reader, kind: KindName, conditions: Conditions) {
  let query = reader.selectFrom(kind);
  for (const [column, value] of conditions) {
    if (Array.isArray(value)) query = query.where(column, 'in', value.length > 0 ? value : ['']);
    else if (value === null) query = query.where(column, 'is', null);
    else query = query.where(column, '=', value);
  }
  return query;
}

/** A condition with very many values is asked piece by piece; several conditions keep their other parts. */
function inPieces(conditions: Conditions): Conditions[] {
  const long = conditions.findIndex(([, value]) => Array.isArray(value) && value.length > MOST_VALUES);
  const [column, values] = conditions[long] ?? [];
  if (column === undefined) return [conditions];
  return pieces(values as unknown[], MOST_VALUES).flatMap((piece) =>
    inPieces(conditions.map((condition, i) => (i === long ? [column, piece] : condition))),
  );
}

/** Reads records over one connection or transaction. */
export function factsOver(reader: Reader): Facts {
  return {
    async get(kind, id) {
      if (id === null || id === undefined) return null;
      const row = await reader.selectFrom(kind).selectAll().where('id', '=', id).executeTakeFirst();
      return (row ?? null) as Row<typeof kind> | null;
    },
    async find(kind, where = {}) {
      const parts: Row<typeof kind>[][] = [];
      for (const conditions of inPieces(conditionsOf(kind, where))) {
        const part = (await select(reader, kind, conditions).selectAll().execute()) as Row<typeof kind>[];
        parts.push(part);
        if (part.length > MANY) await breathe();
      }
      return parts.flat().sort((a, b) => (a.id < b.id ? -1 : 1));
    },
    async count(kind, where = {}) {
      let total = 0;
      for (const conditions of inPieces(conditionsOf(kind, where))) {
        const row = await select(reader, kind, conditions)
          .select((e) => e.fn.countAll().as('n'))
          .executeTakeFirst();
        total += Number(row?.n ?? 0);
      }
      return total;
    },
    turn: breathe,
    lasting: (_name, _kinds, make) => make(null),
  };
}

/** Facts that refuse any kind not declared: a question that forgot to declare one fails at once, not by going stale. */
export function narrowed(facts: Facts, allowed: Reads): Facts {
  if (allowed === 'all') return facts;
  const check = (kind: KindName) => {
    if (!allowed.includes(kind)) throw new Error(`"${kind}" is read but not declared in the question's reads`);
  };
  return {
    get: (kind, id: RecordId | null | undefined) => {
      check(kind);
      return facts.get(kind, id);
    },
    find: (kind, where) => {
      check(kind);
      return facts.find(kind, where);
    },
    count: (kind, where) => {
      check(kind);
      return facts.count(kind, where);
    },
    turn: () => facts.turn(),
    lasting: (name, kinds, make) => {
      for (const kind of kinds) check(kind);
      return facts.lasting(name, kinds, make);
    },
  };
}
