import type { Book } from '#ports/store.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { readPlan, type WrittenPlan } from '../../crosses/read-plan.ts';

/** Crosses still to be inseminated on a day, as their plans are written. */
export async function crossesOfDay(book: Book, on: Day): Promise<WrittenPlan[]> {
  const rows = await book.find('cross', { inseminate_on: on, cancelled: null });
  const done = new Set((await book.find('insemination', { done: 1 })).map(({ cross }) => cross));
  const plans: WrittenPlan[] = [];
  for (const { id } of rows) {
    const plan = done.has(id) ? null : await readPlan(book, id);
    if (plan !== null) plans.push(plan);
  }
  return plans;
}

/** Planned bars and combs not begun yet that serve these crosses and no other. */
export async function plannedForAlone(book: Book, crosses: ReadonlySet<RecordId>) {
  const ids = [...crosses];
  const barUses = await book.find('planned_graft_use', { cross: ids });
  const combUses = await book.find('planned_comb_use', { cross: ids });
  const barIds = [...new Set(barUses.map(({ planned_graft }) => planned_graft))];
  const combIds = [...new Set(combUses.map(({ planned_comb }) => planned_comb))];
  const shared = new Set<RecordId>();
  for (const use of await book.find('planned_graft_use', { planned_graft: barIds }))
    if (!crosses.has(use.cross)) shared.add(use.planned_graft);
  for (const use of await book.find('planned_comb_use', { planned_comb: combIds }))
    if (!crosses.has(use.cross)) shared.add(use.planned_comb);
  const open = { cancelled: null } as const;
  return {
    bars: (await book.find('planned_graft', { id: barIds, graft: null, ...open })).filter(({ id }) => !shared.has(id)),
    combs: (await book.find('planned_comb', { id: combIds, drone_comb: null, ...open })).filter(
      ({ id }) => !shared.has(id),
    ),
  };
}
