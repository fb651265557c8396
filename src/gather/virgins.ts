import type { Facts } from '#ports/store.ts';
import type { RecordId } from '#units/record-id.ts';

/** Which cross each virgin was raised for: by the bench queue where she stands in one, else by the bar she came from. */
export async function crossesOfVirgins(facts: Facts): Promise<Map<RecordId, RecordId>> {
  const crossOfBar = new Map((await facts.find('graft')).map(({ id, cross }) => [id, cross]));
  const cells = new Map((await facts.find('graft_cell')).map(({ id, graft }) => [id, crossOfBar.get(graft) ?? null]));
  const crosses = new Map<RecordId, RecordId>();
  for (const { id, cell } of await facts.find('queen')) {
    const cross = cell === null ? null : (cells.get(cell) ?? null);
    if (cross !== null) crosses.set(id, cross);
  }
  for (const { queen, cross } of await facts.find('bench_queen')) crosses.set(queen, cross);
  return crosses;
}
