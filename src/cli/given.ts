import { parseArgs } from 'node:util';
import { type Day, parseDay } from '#units/calendar-day.ts';
import type { Flag, Positional } from './flag.ts';
import { type InputProblem, WrongInput } from './wrong-input.ts';

type Value = string | number;

/** What a command declares of its words and flags. */
type Declared = { name: string; positionals: readonly Positional[]; flags: Readonly<Record<string, Flag>> };

const wanted: Record<Flag['takes'], string> = {
  text: 'a text',
  file: 'the path of a file',
  number: 'a number with a point, such as 8.5',
  whole: 'a whole number of 0 or more',
  percent: 'a percentage, such as 10% or 10',
  day: 'a day such as 2027-06-12',
  nothing: 'no value',
};

const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;

function readNumber(text: string): number | null {
  return NUMBER.test(text) ? Number(text) : null;
}

function readValue(takes: Flag['takes'], text: string): Value | null {
  switch (takes) {
    case 'number':
      return readNumber(text);
    case 'whole':
      return /^\d+$/.test(text) ? Number(text) : null;
    case 'percent': {
      const percent = readNumber(text.replace(/\s*%$/, ''));
      return percent === null ? null : percent / 100;
    }
    case 'day':
      return parseDay(text);
    default:
      return text === '' ? null : text;
  }
}

/** The words and flags one call of a command was given, read and typed by the command's own declaration. */
export class Given {
  readonly #values: ReadonlyMap<string, readonly Value[]>;
  constructor(values: ReadonlyMap<string, readonly Value[]>) {
    this.#values = values;
  }

  /** Every value of a flag or word, in the order given; empty when absent. */
  texts(name: string): string[] {
    return (this.#values.get(name) ?? []).map(String);
  }
  optionalText(name: string): string | undefined {
    return this.texts(name)[0];
  }
  text(name: string): string {
    const text = this.optionalText(name);
    if (text === undefined) throw new Error(`${name} is not declared as needed`);
    return text;
  }
  optionalNumber(name: string): number | undefined {
    const value = this.#values.get(name)?.[0];
    return value === undefined ? undefined : Number(value);
  }
  number(name: string): number {
    const value = this.optionalNumber(name);
    if (value === undefined) throw new Error(`${name} is not declared as needed`);
    return value;
  }
  day(name: string): Day {
    return this.text(name) as Day;
  }
  has(name: string): boolean {
    return this.#values.has(name);
  }
}

function problemsOf(
  command: Declared,
  line: readonly string[],
): { values: Map<string, Value[]>; problems: InputProblem[] } {
  const remedy = `see combwright ${command.name} --help`;
  const values = new Map<string, Value[]>();
  const problems: InputProblem[] = [];
  const options = Object.fromEntries(
    Object.entries(command.flags).map(([name, flag]) => [
      name,
      { type: flag.takes === 'nothing' ? ('boolean' as const) : ('string' as const), multiple: true },
    ]),
  );
  let parsed: ReturnType<typeof parseArgs>;
  try {
    parsed = parseArgs({ args: [...line], options, allowPositionals: true, strict: true });
  } catch (error) {
    const said = error instanceof Error ? (error.message.split('. ')[0] ?? '') : String(error);
    return { values, problems: [{ found: `"${said}"`, expected: `the flags of ${command.name}`, remedy }] };
  }
  const take = (name: string, takes: Flag['takes'], text: string, label: string) => {
    const value = readValue(takes, text);
    if (value === null) problems.push({ column: label, found: `"${text}"`, expected: wanted[takes], remedy });
    else values.set(name, [...(values.get(name) ?? []), value]);
  };
  for (const [name, flag] of Object.entries(command.flags)) {
    const given = (parsed.values[name] ?? []) as (string | boolean)[];
    if (given.length > 1 && !flag.many)
      problems.push({ column: `--${name}`, found: `${given.length} values`, expected: 'one', remedy });
    for (const text of given) take(name, flag.takes, text === true ? 'yes' : String(text), `--${name}`);
    if (given.length > 0) continue;
    if (flag.initial !== undefined) take(name, flag.takes, flag.initial, `--${name}`);
    else if (flag.needed)
      problems.push({ column: `--${name}`, found: 'nothing', expected: wanted[flag.takes], remedy });
  }
  command.positionals.forEach((word, i) => {
    const text = parsed.positionals[i];
    if (text !== undefined) values.set(word.name, [text]);
    else if (!word.optional) problems.push({ column: word.name, found: 'nothing', expected: word.what, remedy });
  });
  for (const extra of parsed.positionals.slice(command.positionals.length))
    problems.push({ found: `"${extra}"`, expected: `no more than ${command.positionals.length} words`, remedy });
  return { values, problems };
}

/** Reads a command's words and flags. Throws WrongInput naming every one that is unknown, missing or of the wrong kind. */
export function readGiven(command: Declared, line: readonly string[]): Given {
  const { values, problems } = problemsOf(command, line);
  if (problems.length > 0) throw new WrongInput(problems);
  return new Given(values);
}
