import type { Facts, Where } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';

/** Conditions as one text; `null` where one of them is a list, which is hardly asked for twice. */
function textOf(kind: KindName, where: object): string | null {
  const conditions = Object.entries(where);
  return conditions.some(([, value]) => Array.isArray(value)) ? null : JSON.stringify([kind, conditions]);
}

/**
 * Facts that read every list of records once, however often it is asked for: for a question that gathers the same kinds for several ends in one
 * snapshot. Everybody gets a list of their own, which they may sort; the records in it are shared and are not to be written to. What was read is held as
 * long as these facts are; whoever asks for it again first lets other work have its turn.
 * @example const once = readOnce(facts); // two finds of 'queen' are one reading
 */
export function readOnce(facts: Facts): Facts {
  const known = new Map<string, Promise<unknown>>();
  return {
    get: (kind, id) => facts.get(kind, id),
    count: (kind, where) => facts.count(kind, where),
    turn: () => facts.turn(),
    lasting: (name, kinds, make) => facts.lasting(name, kinds, make),
    async find<N extends KindName>(kind: N, where: Where<N> = {}): Promise<Row<N>[]> {
      const text = textOf(kind, where);
      if (text === null) return facts.find(kind, where);
      const held = known.get(text) as Promise<Row<N>[]> | undefined;
      if (held !== undefined) await facts.turn();
      const reading = held ?? facts.find(kind, where);
      known.set(text, reading);
      return [...(await reading)];
    },
  };
}
