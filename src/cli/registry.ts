import type { BookWorld } from './book-world.ts';
import type { Command } from './command.ts';
import { actCommand } from './commands/act.ts';
import { askCommand } from './commands/ask.ts';
import { historyCommand } from './commands/history.ts';
import { startCommand } from './commands/start.ts';
import { stepBackCommand } from './commands/step-back.ts';

/** Every command of `combwright`. */
export const commands: readonly Command<BookWorld>[] = [
  startCommand,
  historyCommand,
  stepBackCommand,
  actCommand,
  askCommand,
];
