import type { Facts } from '#ports/store.ts';
import type { RecordId } from '#units/record-id.ts';

/** The kinds it is known from for which crosses a bar was grafted. */
export const barCrossReads = ['graft', 'planned_graft', 'planned_graft_use', 'cross'] as const;

/**
 * For which crosses the larvae of each dam on each bar were grafted: the one written down with the bar, unless the season plan means the bar for it and others
 * too; else those the season plan meant them for.
 */
export type BarCrosses = (graft: RecordId, dam: RecordId | null) => readonly RecordId[];

/** Reads for which crosses bars were grafted. Crosses given up are left out. */
export async function gatherBarCrosses(facts: Facts): Promise<BarCrosses> {
  const own = new Map((await facts.find('graft')).map(({ id, cross }) => [id, cross]));
  const open = new Set((await facts.find('cross', { cancelled: null })).map(({ id }) => id));
  const uses = await facts.find('planned_graft_use');
  const meant = new Map<string, RecordId[]>();
  for (const { id, graft, dam } of await facts.find('planned_graft', { cancelled: null })) {
    if (graft === null) continue;
    const crosses = uses.filter((use) => use.planned_graft === id && open.has(use.cross)).map(({ cross }) => cross);
    for (const key of [`${graft} ${dam}`, graft]) meant.set(key, [...(meant.get(key) ?? []), ...crosses]);
  }
  return (graft, dam) => {
    const written = own.get(graft) ?? null;
    const planned = [...new Set(meant.get(dam === null ? graft : `${graft} ${dam}`) ?? [])];
    const isOfPlan = written === null || (planned.length > 0 && (meant.get(graft) ?? []).includes(written));
    return isOfPlan ? planned : [written];
  };
}
