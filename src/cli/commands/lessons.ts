import { type Lessons, lessonsOf } from '#domain/lessons/lessons.ts';
import { readOutcomesFile } from '#domain/lessons/read-outcomes-file.ts';
import { csvFileProblem } from '#domain/pedigree/files/file-problem.ts';
import { sayAny } from '#words/say.ts';
import type { Command, Reply, Table, World } from '../command.ts';
import type { Given } from '../given.ts';
import { WrongInput } from '../wrong-input.ts';

/** The file's outcomes, and the column to part them by; throws naming every row that is wrong. */
function outcomesOf(file: string, bytes: Uint8Array, asked: string | undefined) {
  const read = readOutcomesFile(bytes);
  if ('form' in read) throw new WrongInput(read.form.map((problem) => csvFileProblem(file, problem)));
  if ('problems' in read)
    throw new WrongInput(
      read.problems.map(({ row, column, code, found }) => ({
        file,
        row,
        column,
        found: `"${found}"`,
        remedy: sayAny(`problem.${code}`),
      })),
    );
  const { columns, outcomes } = read;
  if (asked !== undefined && !columns.includes(asked))
    throw new WrongInput([
      { column: '--by', found: `"${asked}"`, expected: `a column of ${file}`, remedy: `one of ${columns.join(', ')}` },
    ]);
  return outcomes;
}

function limitsOf(given: Given): { acceptable: number; bad: number } {
  const limits = { acceptable: given.number('acceptable'), bad: given.number('bad') };
  if (0 < limits.acceptable && limits.acceptable < limits.bad && limits.bad < 1) return limits;
  throw new WrongInput([
    {
      column: '--bad',
      found: `${limits.bad * 100}%`,
      expected: 'a share above --acceptable, both between 0% and 100%',
      remedy: 'give the usual share of failures, and a worse one',
    },
  ]);
}

/** Rounded for a person; the JSON keeps every digit. */
const share = (value: number | null) => (value === null ? null : Math.round(value * 1000) / 1000);

function tablesOf({ by, overall, groups, onset, survival, runs }: Lessons): Table[] {
  const signal = new Map(runs.map(({ group, signalAt }) => [group, signalAt]));
  const all = { ...overall, group: 'all', shrunken: null, chanceAlone: null };
  return [
    {
      title: `laying, by ${by}`,
      columns: [by, 'laying', 'known', 'rate', 'low', 'high', 'shrunken', 'by chance alone', 'signal at'],
      rows: [...groups, all].map((one) => [
        one.group ?? '-',
        one.laying,
        one.known,
        share(one.rate),
        share(one.low),
        share(one.high),
        share(one.shrunken),
        share(one.chanceAlone),
        one === all ? null : (signal.get(one.group) ?? null),
      ]),
    },
    curveTable('days to laying', 'not yet laying', onset),
    curveTable('days survived', 'alive', survival),
  ];
}

function curveTable(title: string, what: string, curve: Lessons['survival']): Table {
  const rows = curve.map(({ day, alive, atRisk, low, high }) => [day, share(alive), atRisk, share(low), share(high)]);
  return { title, columns: ['day', what, 'at risk', 'low', 'high'], rows };
}

async function run(given: Given, world: World): Promise<Reply> {
  const file = given.text('outcomes');
  const by = given.optionalText('by');
  const limits = limitsOf(given);
  const outcomes = outcomesOf(file, await world.read(file), by);
  const json = lessonsOf(outcomes, { by: by ?? 'operator', limits });
  return { json, tables: tablesOf(json) };
}

/** What the outcomes of the queens done teach, by any column (contracts.md, command 10). */
export const lessons: Command = {
  name: 'lessons',
  summary: 'of the queens done, how many lay, by operator, tip, storage age …',
  positionals: [{ name: 'outcomes', what: 'the table of outcomes, such as OUTCOMES.csv' }],
  flags: {
    by: { takes: 'text', what: 'the column to part them by; operator when left out' },
    acceptable: { takes: 'percent', what: 'usual share of failures, for the run line', initial: '10%' },
    bad: { takes: 'percent', what: 'share of failures that should be noticed', initial: '30%' },
  },
  run,
};
