import { perform } from '#actions/mechanism/perform.ts';
import { actions } from '#actions/registry.ts';
import { epochOf } from '#units/moment.ts';
import { isRecordId, type RecordId, uuid7 } from '#units/record-id.ts';
import { type BookWorld, dbFlag, refusedInput } from '../book-world.ts';
import type { Command } from '../command.ts';
import { jsonOf, namedOf } from '../json-flag.ts';
import { WrongInput } from '../wrong-input.ts';

function idOf(text: string | undefined): RecordId | undefined {
  if (text === undefined || isRecordId(text)) return text;
  throw new WrongInput([{ column: '--id', found: text, expected: 'a UUID', remedy: 'leave it out to have one made' }]);
}

/** Does one action: whatever a screen can do can be done here. */
export const actCommand: Command<BookWorld> = {
  name: 'act',
  summary: 'Do one action by name; the same actions as the screens',
  positionals: [{ name: 'action', what: `one of ${[...actions.keys()].sort().join(', ')}` }],
  flags: {
    input: { takes: 'text', what: 'Its input as JSON', initial: '{}' },
    id: { takes: 'text', what: 'The id of the act, so that it can be repeated safely' },
    who: { takes: 'text', what: 'Who did it' },
    happened: { takes: 'nothing', what: 'It has happened: what is implausible is kept as a worry' },
    db: dbFlag,
  },
  async run(given, world) {
    const action = namedOf(given, 'action', actions);
    const ports = await world.book(given.optionalText('db'));
    const now = ports.clock.now();
    const act = {
      id: idOf(given.optionalText('id')) ?? uuid7(epochOf(now), ports.random.bytes(10)),
      name: action.name,
      input: jsonOf(given, 'input'),
      done: now,
      who: given.optionalText('who'),
      happened: given.has('happened'),
      device: 'command line',
    };
    const done = await perform(action, act, ports);
    if ('problems' in done) throw refusedInput(done);
    const json = { act: act.id, ...done };
    return {
      json,
      tables: [{ columns: ['act', 'number', 'result'], rows: [[act.id, done.seq, JSON.stringify(done.result)]] }],
    };
  },
};
