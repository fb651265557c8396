import type { BookWorld } from '../book-world.ts';
import type { Command } from '../command.ts';

/** Serves the product until Ctrl-C. */
export const startCommand: Command<BookWorld> = {
  name: 'start',
  summary: 'Serve the pages on this machine until Ctrl-C',
  positionals: [],
  flags: {},
  async run(_given, world) {
    await world.serve();
    return { json: null, tables: [] };
  },
};
