import type { Outcome } from '#domain/lessons/outcome.ts';
import { readOutcomesFile } from '#domain/lessons/read-outcomes-file.ts';
import { eachPlainRow, readPlainTable } from '#domain/stock-book/plain-table.ts';
import type { Change } from '#ports/store.ts';
import type { Entry } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { type Problem, refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { action, type Circumstances } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';
import { sampleStands } from '../sample/sample-stands.ts';
import { batchTubes, doseChanges } from './batches.ts';
import { byName, type Named, named } from './places.ts';
import { notUploaded, plainInput, queensByCode, refused, uploaded } from './plain-input.ts';

type Sight = Entry<'laying_sight'>['saw'];

/** What a look on a day showed, as the row tells it: capped worker brood, drone caps, no eggs, or only that she was there. */
function look(queen: RecordId, on: Day, saw: Sight | null, { newId }: Circumstances): Change[] {
  const id = newId();
  const check = creating('laying_check', id, { queen, day: on, queen_seen: 'seen' });
  return saw === null ? [check] : [check, creating('laying_sight', newId(), { laying_check: id, saw })];
}

const failed = (brood: string): Sight | null =>
  brood === 'drone' ? 'drone-caps' : brood === 'none' ? 'no-eggs' : null;

function looks(queen: RecordId, outcome: TableOutcome, circumstances: Circumstances): Change[] {
  const { laying, layingOn, checkedOn, lostOn, brood } = outcome;
  const good =
    laying === true
      ? look(queen, layingOn ?? checkedOn ?? lostOn ?? circumstances.day, 'worker-caps', circumstances)
      : [];
  const isLater = checkedOn !== null && checkedOn !== layingOn;
  const last = isLater ? look(queen, checkedOn, laying === false ? failed(brood) : null, circumstances) : [];
  return [...good, ...last];
}

/** Her end as the row tells it; a day without a word how counts as lost. */
function end(queen: RecordId, { lostOn, fate }: Outcome, { newId }: Circumstances): Change[] {
  if (lostOn === null && fate === null) return [];
  return [creating('fate', newId(), { queen, kind: fate ?? 'lost', happened_on: lostOn, happened_latest: lostOn })];
}

type Directory = { people: Named; tubes: Named; place: { next: number } };

function inseminated(
  queen: RecordId,
  { inseminated: on, factors }: Outcome,
  directory: Directory,
  { newId, done }: Circumstances,
): Change[] {
  const operator = factors.operator ? directory.people.idOf(factors.operator) : null;
  const dose = factors.dose ? Number(factors.dose.replace(',', '.')) : null;
  const tip = factors.tip || null;
  if (factors.batch) {
    const tube = directory.tubes.idOf(factors.batch);
    const mating = { how: 'batch' as const, batch: factors.batch, on, drones: null, dose };
    const written = doseChanges({ queen, mating, tube, place: directory.place.next++, done, newId });
    return written.map((change) =>
      change.kind === 'insemination' && 'create' in change
        ? { ...change, create: { ...change.create, operator, tip } }
        : change,
    );
  }
  return [creating('insemination', newId(), { queen, day: on, done: 1, operator, tip, given_ul: dose })];
}

/** Columns that have a record of their own; what else a row tells is kept as a note. */
const TOLD = new Set(['operator', 'batch', 'tip', 'dose']);

function noted(queen: RecordId, { factors }: Outcome, { newId }: Circumstances): Change[] {
  const words = Object.entries(factors).filter(([name, text]) => text !== '' && !TOLD.has(name));
  if (words.length === 0) return [];
  const text = words.map(([name, value]) => `${name}: ${value}`).join('\n');
  return [creating('note', newId(), { about_kind: 'queen', about: queen, words: text })];
}

/** An outcome with what its brood turned out to be, as the row says it. */
type TableOutcome = Outcome & { brood: string };
type Prepared = { outcomes: readonly TableOutcome[]; problems: Problem[] } | null;

function readAll(bytes: Uint8Array): NonNullable<Prepared> {
  const read = readOutcomesFile(bytes);
  if ('form' in read) {
    const again = readPlainTable(bytes, ['queen']);
    return { outcomes: [], problems: 'problems' in again ? again.problems : [refuse('hash', 'table-empty')] };
  }
  if ('problems' in read)
    return {
      outcomes: [],
      problems: read.problems.map(({ row, column, code, found }) =>
        refuse(`rows.${row}.${column}`, code, { row, column, found }),
      ),
    };
  const table = readPlainTable(bytes, ['queen']);
  if ('problems' in table) return { outcomes: [], problems: table.problems };
  const { read: broods } = eachPlainRow(table, (row) => row.text('brood').toLowerCase());
  return { outcomes: read.outcomes.map((outcome, i) => ({ ...outcome, brood: broods[i] ?? '' })), problems: [] };
}

/** Brings a plain table of outcomes: inseminations and what became of each queen. The queens must be in the book. */
export const importOutcomes = action({
  name: 'import-outcomes',
  place: 'bench',
  what: 'Bring an uploaded table of outcomes (queen, inseminated, operator, …, laying, lost_on) into the book.',
  input: plainInput,
  async prepare({ hash }, ports): Promise<Prepared> {
    const bytes = await uploaded(hash, ports);
    return bytes === null ? null : readAll(bytes);
  },
  async run(_, circumstances, prepared) {
    if (prepared === null) return notUploaded();
    const sample = await sampleStands(circumstances.book);
    if (sample.length > 0) return refused(...sample);
    if (prepared.problems.length > 0) return refused(...prepared.problems);
    const { book, newId } = circumstances;
    const queens = await queensByCode(book);
    const unknown = prepared.outcomes.filter(({ queen }) => !queens.has(queen));
    if (unknown.length > 0)
      return refused(
        ...unknown.map(({ queen }) => refuse('queen', 'import-queen-unknown', { column: 'queen', found: queen })),
      );
    const people = named(
      byName(await book.find('person'), ({ name }) => name),
      (name) => {
        const id = newId();
        return { id, changes: [creating('person', id, { name })] };
      },
    );
    const directory: Directory = {
      people,
      tubes: await batchTubes(book, newId),
      place: { next: await book.count('ledger_line') },
    };
    const ended = new Set((await book.find('fate')).map(({ queen }) => queen));
    const before = new Set((await book.find('insemination')).map(({ queen, day }) => `${queen} ${day}`));
    const changes = prepared.outcomes.flatMap((outcome) => {
      const id = queens.get(outcome.queen)?.id as RecordId;
      const isKnown = before.has(`${id} ${outcome.inseminated}`);
      return [
        ...(isKnown ? [] : inseminated(id, outcome, directory, circumstances)),
        ...looks(id, outcome, circumstances),
        ...(ended.has(id) ? [] : end(id, outcome, circumstances)),
        ...noted(id, outcome, circumstances),
      ];
    });
    return {
      changes: [...people.changes, ...directory.tubes.changes, ...changes],
      result: { outcomes: prepared.outcomes.length },
    };
  },
});
