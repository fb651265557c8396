import type { Facts } from '#ports/store.ts';
import type { KindName } from '#records/kinds.ts';

export const nameReads = [
  'queen',
  'sister_group',
  'line',
  'graft',
  'graft_cell',
] as const satisfies readonly KindName[];

/** What queens, sister groups and lines are called where a person reads it; "bar/cell" for a queen without a code. */
export async function gatherNames(facts: Facts): Promise<(id: string) => string> {
  const bars = new Map((await facts.find('graft')).map(({ id, code }) => [id, code]));
  const cells = new Map(
    (await facts.find('graft_cell')).map(({ id, graft, position }) => [id, `${bars.get(graft) ?? '?'}/${position}`]),
  );
  const names = new Map<string, string>();
  for (const { id, code, cell } of await facts.find('queen'))
    names.set(id, code ?? (cell === null ? undefined : cells.get(cell)) ?? id.slice(-6));
  for (const { id, code } of await facts.find('sister_group')) names.set(id, code);
  for (const { id, name } of await facts.find('line')) names.set(id, name);
  return (id) => names.get(id) ?? id.slice(-6);
}
