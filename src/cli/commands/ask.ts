import { ask } from '#questions/mechanism/ask.ts';
import { questions } from '#questions/registry.ts';
import { type BookWorld, dbFlag, refusedInput } from '../book-world.ts';
import type { Command } from '../command.ts';
import { jsonOf, namedOf } from '../json-flag.ts';

/** Asks one question: whatever a screen shows can be read here. */
export const askCommand: Command<BookWorld> = {
  name: 'ask',
  summary: 'Ask one question by name; the same questions as the screens',
  positionals: [{ name: 'question', what: `one of ${[...questions.keys()].sort().join(', ')}` }],
  flags: { input: { takes: 'text', what: 'Its input as JSON', initial: '{}' }, db: dbFlag },
  async run(given, world) {
    const question = namedOf(given, 'question', questions);
    const input = jsonOf(given, 'input');
    const answered = await ask(question, input, await world.book(given.optionalText('db')));
    if ('problems' in answered) throw refusedInput(answered);
    return {
      json: answered.answer,
      tables: [{ columns: ['answer'], rows: [[JSON.stringify(answered.answer, null, 1)]] }],
    };
  },
};
