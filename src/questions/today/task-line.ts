import type { Row } from '#records/kinds.ts';
import { type Day, daysBetween } from '#units/calendar-day.ts';

/** What happens by itself: it is told, never ticked and never late. */
const BY_ITSELF: ReadonlySet<string> = new Set(['drone-eggs', 'own-workers']);

/** True for a task somebody has to do. */
export const isWork = (key: string): boolean => !BY_ITSELF.has(key);

export type TaskState = 'done' | 'cancelled' | 'late' | 'due' | 'running' | 'planned';

/** What a task is on a day: done, late, due, running by itself, or still to come. */
export function taskState(task: Row<'task'>, today: Day): TaskState {
  if (task.cancelled === 1) return 'cancelled';
  if (task.done_on !== null) return 'done';
  if (task.span_from > today) return 'planned';
  if (!isWork(task.key)) return task.span_to < today ? 'done' : 'running';
  return task.span_to < today ? 'late' : 'due';
}

/** One task as a page lists it. */
export type TaskLine = {
  id: string;
  key: string;
  /** A person's own words, for a task of one's own. */
  words: string | null;
  from: Day;
  to: Day;
  state: TaskState;
  doneOn: Day | null;
  /** Days it is late. */
  late: number;
  cross: { id: string; code: string } | null;
  /** Several crosses it serves at once: a bar or comb planned for all of them. */
  shared: { id: string; code: string }[];
  /** Larvae or combs of a planned bar or comb; cells of a bar to take out, once they were counted. */
  amount: { what: 'larvae' | 'combs' | 'cells'; n: number } | null;
  /** Queens its sentence needs. */
  queens: number;
  /** Days from the insemination day, negative before it. */
  fromI: number | null;
  /** Codes of the drone mothers or dams it is about. */
  who: string[];
  yard: string | null;
  /** What a calendar knows it by, and how often it was moved. */
  uid: string;
  sequence: number;
};

type About = {
  cross: Row<'cross'> | undefined;
  shared: readonly Row<'cross'>[];
  amount: TaskLine['amount'];
  who: string[];
  yard: string | null;
  today: Day;
};

export function taskLine(task: Row<'task'>, { cross, shared, amount, who, yard, today }: About): TaskLine {
  const state = taskState(task, today);
  const day = cross?.inseminate_on ?? null;
  return {
    id: task.id,
    key: task.key,
    words: task.words,
    from: task.span_from,
    to: task.span_to,
    state,
    doneOn: task.done_on,
    late: state === 'late' ? daysBetween(task.span_to, today) : 0,
    cross: cross === undefined ? null : { id: cross.id, code: cross.code },
    shared: shared.map(({ id, code }) => ({ id, code })),
    amount,
    queens: cross?.queens_wanted ?? 0,
    fromI: day === null ? null : daysBetween(day, task.span_from),
    who,
    yard,
    uid: task.uid,
    sequence: task.sequence,
  };
}
