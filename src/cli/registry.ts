import type { BookWorld } from './book-world.ts';
import type { Command } from './command.ts';
import { actCommand } from './commands/act.ts';
import { askCommand } from './commands/ask.ts';
import { breedingValuesCommand } from './commands/breeding-values.ts';
import { brood } from './commands/brood.ts';
import { checkCommand, exportCommand, restoreCommand, safeCopyCommand } from './commands/copies.ts';
import { countback } from './commands/countback.ts';
import { crosses } from './commands/crosses.ts';
import { dronesNeededCommand } from './commands/drones-needed.ts';
import { historyCommand } from './commands/history.ts';
import { importCommand } from './commands/import.ts';
import { kinship } from './commands/kinship.ts';
import { labelsCommand } from './commands/labels.ts';
import { laboratory } from './commands/laboratory.ts';
import { lessons } from './commands/lessons.ts';
import { lookahead } from './commands/lookahead.ts';
import { seasonCommand } from './commands/season.ts';
import { startCommand } from './commands/start.ts';
import { stepBackCommand } from './commands/step-back.ts';
import { variances } from './commands/variances.ts';

/** Every command of `combwright`. */
export const commands: readonly Command<BookWorld>[] = [
  startCommand,
  kinship,
  brood,
  breedingValuesCommand,
  variances,
  crosses,
  lookahead,
  countback,
  seasonCommand,
  dronesNeededCommand,
  laboratory,
  lessons,
  importCommand,
  historyCommand,
  stepBackCommand,
  safeCopyCommand,
  restoreCommand,
  exportCommand,
  labelsCommand,
  checkCommand,
  actCommand,
  askCommand,
];
