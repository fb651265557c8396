import { type Day, daysBetween } from '#units/calendar-day.ts';

/** What a task needs to be followed from one plan to the next: its key, and what it belongs to where a plan has several of a key. */
export type Followed = { key: string; of?: string; from: Day; to: Day };

/** A task beside its ghost: where it was, where it is now, and by how many days it moved (negative = earlier). */
export type Moved = {
  key: string;
  of: string;
  was: Pick<Followed, 'from' | 'to'> | null;
  now: Pick<Followed, 'from' | 'to'> | null;
  days: number;
};

const nameOf = ({ key, of = '' }: Followed) => `${of} ${key}`;
const spanOf = ({ from, to }: Followed) => ({ from, to });

/**
 * What changed between two plans: moved, new (`was` null) and dropped (`now` null) tasks, in the order of the new plan and then the dropped. The old plan is the
 * ghost to be drawn behind the new one.
 */
export function movedTasks(before: readonly Followed[], after: readonly Followed[]): Moved[] {
  const old = new Map(before.map((task) => [nameOf(task), task]));
  const kept = new Set(after.map(nameOf));
  const changed = after.flatMap((task): Moved[] => {
    const was = old.get(nameOf(task));
    if (was !== undefined && was.from === task.from && was.to === task.to) return [];
    const days = was === undefined ? 0 : daysBetween(was.from, task.from);
    return [{ key: task.key, of: task.of ?? '', was: was === undefined ? null : spanOf(was), now: spanOf(task), days }];
  });
  const dropped = before
    .filter((task) => !kept.has(nameOf(task)))
    .map((task): Moved => ({ key: task.key, of: task.of ?? '', was: spanOf(task), now: null, days: 0 }));
  return [...changed, ...dropped];
}
