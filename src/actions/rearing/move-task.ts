import { z } from 'zod';
import { isTiedToBiology } from '#domain/rearing/task-sides.ts';
import { idShape } from '#records/field.ts';
import { addDays } from '#units/calendar-day.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { setting } from '../mechanism/recording.ts';

const input = z.strictObject({
  task: idShape,
  /** Days later; negative = earlier. */
  by: z.int().min(-366).max(366),
});

/** Moves one task by some days. It keeps that distance when its plan moves. What biology ties to the day moves with the plan only. */
export const moveTask = action({
  name: 'move-task',
  place: 'rearing',
  what: 'Move one task by some days; a task that biology ties to the day moves with the plan only.',
  input,
  async run({ task, by }, { book }) {
    const row = await book.get('task', task);
    const no = (code: string, values: Record<string, string> = {}) => ({
      changes: [],
      result: null,
      problems: [refuse('task', code, values)],
    });
    if (row === null) return no('unknown-record', { kind: 'task', id: task });
    if (row.done_on !== null) return no('task-done', { on: row.done_on });
    if (isTiedToBiology(row.key)) return no('task-tied');
    const set = {
      day: addDays(row.day, by),
      span_from: addDays(row.span_from, by),
      span_to: addDays(row.span_to, by),
      by_hand: (row.by_hand ?? 0) + by,
      sequence: row.sequence + 1,
    };
    return { changes: by === 0 ? [] : [setting('task', task, set)], result: { id: task } };
  },
});
