import type { Command, Reply, World } from './command.ts';
import { readGiven } from './given.ts';
import { helpOf, helpOfAll } from './help.ts';
import { jsonPieces } from './json-pieces.ts';
import { tableText } from './table.ts';
import { oneLine, printable, WrongInput } from './wrong-input.ts';

/** Where the command line writes. */
export type Terminal = { out(text: string): void; err(text: string): void };

function print(reply: Reply, asJson: boolean, { out, err }: Terminal): void {
  if (asJson) {
    for (const piece of jsonPieces(reply.json)) out(piece);
    out('\n');
  } else for (const table of reply.tables) out(`${tableText(table)}\n\n`);
  for (const note of reply.notes ?? []) err(`${printable(note)}\n`);
}

function unknown(name: string, commands: readonly Pick<Command, 'name'>[]): WrongInput {
  const names = commands.map((command) => command.name).join(', ');
  return new WrongInput([{ found: `"${name}"`, expected: `one of ${names}`, remedy: 'see combwright --help' }]);
}

/**
 * Runs one command line. Answers with the exit status: 0 done, 2 the input is wrong, 1 our fault. Nothing is written to
 * standard output unless the command is done.
 */
export async function run<W extends World>(
  line: readonly string[],
  commands: readonly Command<W>[],
  { world, terminal }: { world: W; terminal: Terminal },
): Promise<number> {
  const [name, ...rest] = line;
  try {
    if (name === undefined || name === '--help') {
      terminal.out(`${helpOfAll(commands)}\n`);
      return 0;
    }
    const command = commands.find((each) => each.name === name);
    if (command === undefined) throw unknown(name, commands);
    if (rest.includes('--help')) {
      terminal.out(`${helpOf(command)}\n`);
      return 0;
    }
    const given = readGiven(
      command,
      rest.filter((word) => word !== '--json'),
    );
    print(await command.run(given, world), rest.includes('--json'), terminal);
    return 0;
  } catch (error) {
    if (error instanceof WrongInput) {
      for (const problem of error.problems) terminal.err(`${oneLine(problem)}\n`);
      return 2;
    }
    terminal.err(
      `Combwright failed; this is our fault. ${error instanceof Error ? (error.stack ?? error.message) : error}\n`,
    );
    return 1;
  }
}
