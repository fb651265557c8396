import { uidOf } from '#domain/rearing/calendar-event.ts';
import type { Task, TaskKey } from '#domain/rearing/task.ts';
import type { Change } from '#ports/store.ts';
import type { Row } from '#records/kinds.ts';
import { addDays } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { creating, setting } from '../mechanism/recording.ts';

/** A cross, a planned bar or a planned comb; exactly one of them. */
export type TaskOwner = { cross: RecordId } | { planned_graft: RecordId } | { planned_comb: RecordId };

/** The tasks of a cross or of something planned as they stand, the tasks its days ask for now, and what decides between the two. */
export type Recount = {
  /** What the tasks belong to: a cross, or a planned bar or comb that may serve several. */
  owner: TaskOwner;
  rows: readonly Row<'task'>[];
  tasks: readonly Task[];
  /** True for a task that is not written any more when it never was: its day is past and its side needs no raising. */
  isLeftOut: (task: Task) => boolean;
  /** True for tasks whose days are left as they are, whatever is counted: queens are already being looked at. */
  isSettled: (key: string) => boolean;
  yardOf: (key: TaskKey) => RecordId | null;
  newId: () => RecordId;
};

type Span = Pick<Row<'task'>, 'day' | 'span_from' | 'span_to'>;

/** A task's days as counted, moved by as many days as a person moved it. */
function spanOf({ from, to }: Pick<Task, 'from' | 'to'>, byHand: number | null): Span {
  const shift = byHand ?? 0;
  const first = addDays(from, shift);
  return { day: first, span_from: first, span_to: addDays(to, shift) };
}

function movedTo(row: Row<'task'>, task: Task): Change[] {
  const span = spanOf(task, row.by_hand);
  const isSame = row.span_from === span.span_from && row.span_to === span.span_to && row.cancelled !== 1;
  if (isSame) return [];
  return [setting('task', row.id, { ...span, cancelled: null, sequence: row.sequence + 1 })];
}

function written(task: Task, { owner, yardOf, newId }: Recount): Change {
  const { key } = task;
  const [id = ''] = Object.values(owner);
  return creating('task', newId(), {
    ...owner,
    key,
    ...spanOf(task, null),
    uid: uidOf(id, key),
    sequence: 0,
    yard: yardOf(key),
  });
}

/** The change that takes a task off the list without losing it; nothing when it is off already or done. */
export const cancelling = (row: Row<'task'>): Change[] =>
  row.cancelled === 1 || row.done_on !== null
    ? []
    : [setting('task', row.id, { cancelled: 1, sequence: row.sequence + 1 })];

/**
 * The changes that bring the tasks of a cross, or of something planned, to its days: done ones stay, others move and go up in sequence, new ones are written,
 * those no longer asked for are cancelled. A task keeps its uid for life.
 */
export function recount(given: Recount): Change[] {
  const { rows, tasks, isLeftOut, isSettled } = given;
  const byKey = new Map(rows.map((row) => [row.key, row]));
  const asked = new Set<string>(tasks.map(({ key }) => key));
  const changes = tasks.flatMap((task): Change[] => {
    const row = byKey.get(task.key);
    if (row === undefined) return isLeftOut(task) ? [] : [written(task, given)];
    return row.done_on !== null || isSettled(task.key) ? [] : movedTo(row, task);
  });
  const gone = rows.filter(({ key }) => key !== OWN_TASK && !asked.has(key) && !isSettled(key));
  return [...changes, ...gone.flatMap(cancelling)];
}

/** The key of a task a person wrote: it has words of its own and no count moves it. */
export const OWN_TASK = 'own';
