import { history } from '#questions/edge/history.ts';
import { ask } from '#questions/mechanism/ask.ts';
import { sayAny } from '#words/say.ts';
import { type BookWorld, dbFlag, refusedInput } from '../book-world.ts';
import type { Command } from '../command.ts';

/** What was done, newest first. */
export const historyCommand: Command<BookWorld> = {
  name: 'history',
  summary: 'What was done, by whom and when; of one record with RECORD',
  positionals: [{ name: 'record', what: 'the id of a record', optional: true }],
  flags: { newest: { takes: 'whole', what: 'At most this many acts', initial: '200' }, db: dbFlag },
  async run(given, world) {
    const record = given.optionalText('record');
    const input = { newest: given.number('newest'), ...(record === undefined ? {} : { record }) };
    const answered = await ask(history, input, await world.book(given.optionalText('db')));
    if ('problems' in answered) throw refusedInput(answered);
    const acts = answered.answer.acts;
    return {
      json: { acts },
      tables: [
        {
          columns: ['number', 'what', 'who', 'done', 'stepped back', 'act'],
          rows: acts.map((act) => [
            act.seq,
            sayAny(`action.${act.what}`),
            act.who,
            act.done.slice(0, 16),
            act.steppedBackBy === null ? '' : 'yes',
            act.id,
          ]),
        },
      ],
    };
  },
};
