import type { Book } from '#ports/store.ts';
import type { Day } from '#units/calendar-day.ts';
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
