import { z } from 'zod';
import { dayShape, idShape } from '#records/field.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { setting } from '../mechanism/recording.ts';

/** Ticks tasks: one press. Stepping the act back makes them due again. A task that is done already stays as it was. */
export const doTask = action({
  name: 'do-task',
  place: 'today',
  what: 'Tick one task or several as done.',
  input: z.strictObject({ tasks: z.array(idShape).min(1).max(200), on: dayShape.optional() }),
  async run({ tasks, on }, { book, day }) {
    const rows = await book.find('task', { id: tasks });
    const known = new Set(rows.map(({ id }) => id));
    const unknown = tasks.filter((id) => !known.has(id));
    if (unknown.length > 0)
      return {
        changes: [],
        result: null,
        problems: unknown.map((id) => refuse('tasks', 'unknown-record', { kind: 'task', id })),
      };
    const open = rows.filter(({ done_on }) => done_on === null);
    return { changes: open.map(({ id }) => setting('task', id, { done_on: on ?? day })), result: { tasks } };
  },
});
