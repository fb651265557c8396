import { stepBack } from '#actions/history/step-back.ts';
import type { Action } from '#actions/mechanism/action.ts';
import { perform } from '#actions/mechanism/perform.ts';
import { epochOf } from '#units/moment.ts';
import { uuid7 } from '#units/record-id.ts';
import { type BookWorld, dbFlag, refusedInput } from '../book-world.ts';
import type { Command } from '../command.ts';

/** Takes an act back. */
export const stepBackCommand: Command<BookWorld> = {
  name: 'step-back',
  summary: 'Take an act back; refused, naming them, while later acts were built on it',
  positionals: [{ name: 'act', what: 'the id of the act (see combwright history)' }],
  flags: { 'with-later': { takes: 'nothing', what: 'Take the later acts built on it back too' }, db: dbFlag },
  async run(given, world) {
    const ports = await world.book(given.optionalText('db'));
    const now = ports.clock.now();
    const id = uuid7(epochOf(now), ports.random.bytes(10));
    const input = { act: given.text('act'), with_later: given.has('with-later') };
    const act = { id, name: stepBack.name, input, done: now, device: 'command line' };
    const done = await perform(stepBack as unknown as Action, act, ports);
    if ('problems' in done) throw refusedInput(done);
    const { steppedBack } = done.result as { steppedBack: string[] };
    return {
      json: { act: id, steppedBack },
      tables: [{ columns: ['stepped back'], rows: steppedBack.map((each) => [each]) }],
    };
  },
};
