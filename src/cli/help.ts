import type { Command, Flag } from './command.ts';

const after: Readonly<Record<Flag['takes'], string>> = {
  text: ' TEXT',
  file: ' FILE',
  number: ' NUMBER',
  whole: ' N',
  percent: ' PERCENT',
  day: ' YYYY-MM-DD',
  nothing: '',
};

const mayBe = (text: string, needed: boolean) => (needed ? text : `[${text}]`);

function flagLine([name, flag]: [string, Flag]): string {
  const left = `--${name}${after[flag.takes]}`.padEnd(30);
  const right = [flag.what, flag.initial === undefined ? '' : `(usual: ${flag.initial})`].filter((part) => part !== '');
  return `  ${left} ${right.join(' ')}`;
}

type Shown = Pick<Command, 'name' | 'summary' | 'positionals' | 'flags'>;

/** How one command is used. */
export function helpOf({ name, summary, positionals, flags }: Shown): string {
  const words = positionals.map((word) => mayBe(word.name.toUpperCase(), !word.optional));
  const needed = Object.entries(flags).filter(([, flag]) => flag.needed);
  const use = [
    'combwright',
    name,
    ...words,
    ...needed.map(([flag, { takes }]) => `--${flag}${after[takes]}`),
    '[--json]',
  ];
  const wordLines = positionals.map((word) => `  ${word.name.toUpperCase().padEnd(30)} ${word.what}`);
  const common = [
    '  --json                         One JSON document on standard output',
    '  --help                         This text',
  ];
  return [
    summary,
    '',
    `Use: ${use.join(' ')}`,
    '',
    ...wordLines,
    ...Object.entries(flags).map(flagLine),
    ...common,
  ].join('\n');
}

/** The list of commands. */
export function helpOfAll(commands: readonly Shown[]): string {
  const lines = commands.map(({ name, summary }) => `  ${name.padEnd(18)} ${summary}`);
  return [
    'Combwright: the working tool of a honeybee breeder.',
    '',
    ...lines,
    '',
    'combwright COMMAND --help tells more.',
  ].join('\n');
}
