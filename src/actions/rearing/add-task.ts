import { z } from 'zod';
import { dayShape, idShape } from '#records/field.ts';
import { laterOf } from '#units/calendar-day.ts';
import { action } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';
import { OWN_TASK } from './recount.ts';

const input = z.strictObject({
  words: z.string().trim().min(1).max(500),
  day: dayShape,
  /** The last day it may be done; the same day when left out. */
  until: dayShape.optional(),
  yard: idShape.optional(),
  cross: idShape.optional(),
});

/** Writes down a task in a person's own words. */
export const addTask = action({
  name: 'add-task',
  place: 'today',
  what: 'Write down a task of your own, with its day and yard.',
  input,
  async run({ words, day, until, yard, cross }, { newId }) {
    const id = newId();
    const task = {
      key: OWN_TASK,
      words,
      day,
      span_from: day,
      span_to: laterOf(day, until ?? day),
      uid: `${OWN_TASK}.${id}@combwright`,
      sequence: 0,
      yard: yard ?? null,
      cross: cross ?? null,
    };
    return { changes: [creating('task', id, task)], result: { id } };
  },
});
