import type { Facts } from '#ports/store.ts';
import type { RecordId } from '#units/record-id.ts';
import { barCrossReads, gatherBarCrosses } from './bar-crosses.ts';

/** The kinds the cross of a virgin is known from. */
export const virginCrossReads = [...barCrossReads, 'graft_cell', 'queen', 'bench_queen'] as const;

/**
 * Which cross each virgin is meant for: by the bench queue where she stands in one, else as it was said of her, else by the bar she came from where that serves
 * one cross alone. A virgin of a bar that serves several is for none of them until it is said.
 */
export async function crossesOfVirgins(facts: Facts): Promise<Map<RecordId, RecordId>> {
  const crossesOf = await gatherBarCrosses(facts);
  const bars = new Map((await facts.find('graft_cell')).map(({ id, graft }) => [id, graft]));
  const crosses = new Map<RecordId, RecordId>();
  for (const { id, cell, dam, meant_for } of await facts.find('queen')) {
    const bar = cell === null ? undefined : bars.get(cell);
    const [only, ...more] = bar === undefined ? [] : crossesOf(bar, dam);
    const cross = meant_for ?? (more.length === 0 ? only : undefined);
    if (cross !== undefined) crosses.set(id, cross);
  }
  for (const { queen, cross } of await facts.find('bench_queen')) crosses.set(queen, cross);
  return crosses;
}
