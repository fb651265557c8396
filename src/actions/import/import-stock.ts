import { z } from 'zod';
import type { Rehearsal, Rehearsed } from '#domain/stock-book/rehearsal.ts';
import type { TableProblem } from '#domain/stock-book/table.ts';
import { gatherImportBook, importBookReads } from '#gather/import-book.ts';
import type { Book, Change } from '#ports/store.ts';
import { dayShape } from '#records/field.ts';
import { contentHash, importChoices, REMEMBERED_COLUMNS } from '#records/import-choices.ts';
import { dayOfMoment } from '#units/moment.ts';
import { type Problem, refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { action } from '../mechanism/action.ts';
import { creating, setting } from '../mechanism/recording.ts';
import { sampleStands } from '../sample/sample-stands.ts';
import { planChanges } from './plan-changes.ts';

const input = z.strictObject({
  /** Content hash of the uploaded file. */
  hash: contentHash,
  choices: importChoices.optional(),
  /** The day the person has; the server's own when left out. */
  today: dayShape.optional(),
  /** A plain table of the command line: a mother without a row is refused. */
  strict: z.boolean().optional(),
});

/** Problems told of one refused import; more would not be read. */
const MOST_TOLD = 500;

/** What keeps a rehearsed import from being written, row by row. */
function inTheWay({ problems, questions, columns }: Rehearsal): Problem[] {
  const unanswered = questions
    .filter(({ needed }) => needed)
    .map(({ id }) => refuse(`choices.answers.${id}`, 'import-not-answered', { question: id }));
  const rows = problems
    .filter(({ weight }) => weight === 'must')
    .slice(0, MOST_TOLD)
    .map(({ row, column, code, found, values }) => {
      const heading = column === null ? '' : (columns[column]?.heading ?? String(column + 1));
      return refuse(`rows.${row}.${heading}`, code, { ...values, row, column: heading, found });
    });
  const codeless = columns.every(({ meaning }) => meaning !== 'code');
  return [...(codeless ? [refuse('choices.columns', 'import-without-codes', {})] : []), ...unanswered, ...rows];
}

/** The meanings of the columns are kept for the next import. */
async function remembering(book: Book, { columns }: Rehearsal, newId: () => RecordId): Promise<Change[]> {
  const [kept] = await book.find('setting', { name: REMEMBERED_COLUMNS });
  const before = kept === undefined ? {} : (JSON.parse(kept.value) as object);
  const told = columns.filter(({ heading }) => heading !== '');
  const now = Object.fromEntries(told.map(({ heading, meaning, split }) => [heading, { meaning, split }]));
  const value = JSON.stringify({ ...before, ...now });
  return [
    kept === undefined
      ? creating('setting', newId(), { name: REMEMBERED_COLUMNS, value })
      : setting('setting', kept.id, { value }),
  ];
}

type Prepared = Rehearsed | { problem: TableProblem } | 'not-uploaded';

/** Brings a breeder's own table of queens into the book: everything the rehearsal showed, as one act that one step takes back. */
export const importStock = action({
  name: 'import-stock',
  place: 'stock',
  what: 'Bring an uploaded table of queens into the book, as it was rehearsed, in one act.',
  input,
  async prepare({ hash, choices = {}, strict = false, today }, { store, compute, clock }): Promise<Prepared> {
    const kept = await store.bytes(hash);
    if (kept === null) return 'not-uploaded';
    const { answer: book } = await store.read(importBookReads, gatherImportBook);
    const on = today ?? dayOfMoment(clock.now());
    return compute.run<Rehearsed | { problem: TableProblem }>('rehearse-stock', {
      bytes: kept.bytes,
      choices,
      book,
      today: on,
      strict,
    });
  },
  async run(_, circumstances, prepared) {
    const no = (...problems: Problem[]) => ({ changes: [], result: null, problems });
    if (prepared === 'not-uploaded') return no(refuse('hash', 'not-uploaded'));
    if ('problem' in prepared) {
      const { code, row, values } = prepared.problem;
      return no(refuse('hash', code, { ...values, ...(row === null ? {} : { row }) }));
    }
    const { rehearsal, plan } = prepared;
    const problems = [...(await sampleStands(circumstances.book)), ...inTheWay(rehearsal)];
    if (problems.length > 0) return no(...problems);
    if (!rehearsal.ready) return no(refuse('hash', 'import-nothing', {}));
    const changes = await planChanges(plan, circumstances);
    const kept = await remembering(circumstances.book, rehearsal, circumstances.newId);
    return { changes: [...changes, ...kept], result: rehearsal.counts };
  },
});
