import { createHash } from 'node:crypto';
import { perform } from '#actions/mechanism/perform.ts';
import { actions } from '#actions/registry.ts';
import { readPedigree } from '#domain/pedigree/files/read-pedigree.ts';
import type { ImportChoices } from '#domain/stock-book/choices.ts';
import type { Meaning } from '#domain/stock-book/meaning.ts';
import type { Ports } from '#ports/ports.ts';
import type { Done, Kept, Refused, Store } from '#ports/store.ts';
import { importChoices } from '#records/import-choices.ts';
import { parse } from '#records/parse.ts';
import { epochOf } from '#units/moment.ts';
import type { Problem } from '#units/problem.ts';
import { uuid7 } from '#units/record-id.ts';
import { sayProblem } from '#words/say.ts';
import { type BookWorld, dbFlag } from '../book-world.ts';
import type { Command, Table } from '../command.ts';
import { type InputProblem, WrongInput } from '../wrong-input.ts';

const kinds = ['stock', 'semen', 'records', 'outcomes'] as const;
type Kind = (typeof kinds)[number];

/** The published columns of QUEENS.csv (contracts.md, Files) and what they mean. */
const published: Readonly<Record<string, Meaning>> = {
  queen: 'code',
  dam: 'dam',
  born: 'emerged',
  mated_to: 'drones',
  drones: 'drone-count',
  semen: 'semen',
  sisters: 'sisters',
};

/** Problems of the pedigree reader that a book may answer: who or what is named may be in it already. */
const answeredByTheBook = new Set(['dam-unknown', 'drone-mother-unknown', 'batch-unknown', 'source-unknown']);

/** The header of a plain stock table, when it is one: the column `queen`, named exactly so. */
function plainHeader(bytes: Uint8Array): string[] | null {
  const [line = ''] = new TextDecoder()
    .decode(bytes.subarray(0, 100_000))
    .replace(/^\uFEFF/, '')
    .trimStart()
    .split(/\r\n|\n|\r/);
  const separators = [',', ';', '\t'].map((mark) =>
    line.split(mark).map((name) => name.trim().replace(/^"(.*)"$/, '$1')),
  );
  return separators.find((names) => names.includes('queen') && (names.length > 1 || line.trim() === 'queen')) ?? null;
}

/** A plain table says what its columns mean, so nothing is guessed or asked; its form is held to the letter. */
function plainChoices(file: string, bytes: Uint8Array, header: readonly string[]): ImportChoices {
  const read = readPedigree({ name: file, bytes });
  const problems = read.problems.filter(({ code }) => !answeredByTheBook.has(code));
  if (problems.length > 0) throw new WrongInput(problems);
  const columns = Object.fromEntries(
    header.map((name, i) => [String(i), { meaning: published[name] ?? ('note' as const), split: null }]),
  );
  return {
    columns,
    answers: {
      codeNames: 'queen',
      codeSplit: 'whole',
      codeDays: 'keep',
      dronesName: 'drone-mother',
      dayOrder: 'day-first',
    },
  };
}

async function readChoices(path: string, world: BookWorld): Promise<ImportChoices> {
  const remedy = 'see the choices of import-stock in /api/openapi.json';
  let json: unknown;
  try {
    json = JSON.parse(new TextDecoder().decode(await world.read(path)));
  } catch (error) {
    if (error instanceof WrongInput) throw error;
    throw new WrongInput([{ file: path, found: 'text that is not JSON', expected: 'choices as JSON', remedy }]);
  }
  const read = parse(importChoices, json);
  if ('value' in read) return read.value;
  throw new WrongInput(
    read.problems.map(({ path: column, code, values }) => ({
      file: path,
      column,
      found: code,
      remedy: sayProblem({ code, values }),
    })),
  );
}

/** A problem of an import as one line: file, row, column, what was found, what to do. */
function lineOf(file: string, { path, code, values }: Problem): InputProblem {
  const row = Number(values.row);
  const column = values.column === undefined || values.column === '' ? undefined : String(values.column);
  const question = values.question === undefined ? undefined : `no answer to ${values.question}`;
  const found = question ?? (values.found === undefined || values.found === '' ? code : `"${values.found}"`);
  return {
    file,
    ...(Number.isInteger(row) && row > 0 ? { row } : {}),
    ...(column === undefined ? (path.startsWith('choices') ? { column: path } : {}) : { column }),
    found,
    remedy:
      question === undefined
        ? sayProblem({ code, values })
        : 'answer it with --choices FILE, or bring the table in on the page',
  };
}

/** Thrown to leave the transaction after a dry run: everything was checked and nothing is kept. */
class DryRun extends Error {
  readonly kept: Kept;
  constructor(kept: Kept) {
    super('a dry run keeps nothing');
    this.kept = kept;
  }
}

/** The same book, but an act that would be kept is left as it was before anything is. */
const withoutKeeping = (store: Store): Store => ({
  ...store,
  async act(act, body) {
    try {
      return await store.act(act, async (book) => {
        const kept = await body(book);
        if ('problems' in kept) return kept;
        throw new DryRun(kept);
      });
    } catch (error) {
      if (!(error instanceof DryRun)) throw error;
      const { result, warnings } = error.kept;
      return { seq: await store.seq(), again: false, result, touched: [], warnings };
    }
  },
});

async function act(kind: Kind, input: object, ports: Ports): Promise<Done | Refused> {
  const name = `import-${kind}`;
  const action = actions.get(name);
  if (action === undefined) throw new Error(`no action ${name}`);
  const done = ports.clock.now();
  const id = uuid7(epochOf(done), ports.random.bytes(10));
  return perform(action, { id, name, input, done, device: 'command line', happened: true }, ports);
}

function tableOf(title: string, result: Readonly<Record<string, number>>): Table {
  const rows = Object.entries(result).filter(([, n]) => n > 0);
  return { title, columns: ['what', 'how many'], rows };
}

/** Brings a file into the book (contracts.md, command 11). A dry run checks everything and writes nothing. */
export const importCommand: Command<BookWorld> = {
  name: 'import',
  summary: 'Bring a table into the book: stock, semen, records or outcomes',
  positionals: [
    { name: 'kind', what: `one of ${kinds.join(', ')}` },
    { name: 'file', what: 'the file: published columns as CSV; for stock any table, also XLSX' },
  ],
  flags: {
    'dry-run': { takes: 'nothing', what: 'Check everything, write nothing' },
    choices: { takes: 'file', what: 'For stock: columns, answers and fixes as JSON, as the page sends them' },
    db: dbFlag,
  },
  async run(given, world) {
    const asked = given.text('kind');
    const kind = kinds.find((each) => each === asked);
    if (kind === undefined)
      throw new WrongInput([
        {
          column: 'kind',
          found: `"${asked}"`,
          expected: `one of ${kinds.join(', ')}`,
          remedy: 'see combwright import --help',
        },
      ]);
    const file = given.text('file');
    const bytes = await world.read(file);
    const header = kind === 'stock' && !given.has('choices') ? plainHeader(bytes) : null;
    const choices = given.has('choices')
      ? await readChoices(given.text('choices'), world)
      : header === null
        ? {}
        : plainChoices(file, bytes, header);
    const opened = await world.book(given.optionalText('db'));
    const dry = given.has('dry-run');
    const hash = createHash('sha256').update(bytes).digest('hex');
    // The bytes are handed over in memory: a dry run leaves nothing behind, not even the file.
    const kept: Store = {
      ...opened.store,
      bytes: async (name) => (name === hash ? { form: '', bytes } : opened.store.bytes(name)),
    };
    const ports = { ...opened, store: dry ? withoutKeeping(kept) : kept };
    const input = kind === 'stock' ? { hash, choices, strict: header !== null } : { hash };
    const done = await act(kind, input, ports);
    if ('problems' in done) throw new WrongInput(done.problems.map((problem) => lineOf(file, problem)));
    if (!dry) await opened.store.keepBytes(hash, 'application/octet-stream', bytes);
    const result = done.result as Readonly<Record<string, number>>;
    const json = { kind, dryRun: dry, ...(dry ? {} : { seq: done.seq }), result, worries: done.warnings.length };
    return {
      json,
      tables: [tableOf(dry ? `would be brought in: ${kind}` : `brought in: ${kind}`, result)],
      notes: dry ? ['Nothing was written: this was a dry run.'] : [],
    };
  },
};
