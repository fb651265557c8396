import { eachPlainRow, readPlainTable } from '#domain/stock-book/plain-table.ts';
import type { Change } from '#ports/store.ts';
import type { Day } from '#units/calendar-day.ts';
import { action, type Circumstances } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';
import { sampleStands } from '../sample/sample-stands.ts';
import { byName, named } from './places.ts';
import { notUploaded, plainInput, queensByCode, refused, uploaded } from './plain-input.ts';

const OTHERS = ['queen', 'yard', 'year'];
const firstDay = (year: number): Day => `${year}-01-01` as Day;
const lastDay = (year: number): Day => `${year}-12-31` as Day;

/** Yards by name, and a colony of each queen in a yard and year, so that a score knows where it was read. */
async function standing({ book, newId }: Circumstances) {
  const yards = named(
    byName(await book.find('yard'), ({ name }) => name),
    (name) => {
      const id = newId();
      return { id, changes: [creating('yard', id, { name })] };
    },
  );
  const colonies = named(
    byName(await book.find('colony'), ({ code }) => code),
    (code) => {
      const id = newId();
      const year = Number(code.slice(code.lastIndexOf(' ') + 1));
      const span = { since: firstDay(year), ended: lastDay(year), ended_how: 'dissolved' as const };
      return { id, changes: [creating('colony', id, { code, form: 'full', ...span })] };
    },
  );
  return { yards, colonies };
}

/** Brings a plain table of scores: one row a queen and year, one column a trait. The queens must be in the book. */
export const importRecords = action({
  name: 'import-records',
  place: 'yard',
  what: 'Bring an uploaded table of scores (queen, yard, year, then one column a trait) into the book.',
  input: plainInput,
  prepare: ({ hash }, ports) => uploaded(hash, ports),
  async run(_, circumstances, bytes) {
    if (bytes === null) return notUploaded();
    const sample = await sampleStands(circumstances.book);
    if (sample.length > 0) return refused(...sample);
    const { book, newId } = circumstances;
    const table = readPlainTable(bytes, ['queen', 'yard', 'year']);
    if ('problems' in table) return refused(...table.problems);
    const traits = table.columns.filter((column) => !OTHERS.includes(column));
    const queens = await queensByCode(book);
    const { yards, colonies } = await standing(circumstances);
    const seen = new Set<string>();
    let scores = 0;
    const { read, problems } = eachPlainRow(table, (row): Change[] => {
      const [code, yard, year] = [row.text('queen'), row.text('yard'), row.amount('year')];
      const queen = queens.get(code);
      if (code === '') row.say('queen', 'import-code-missing');
      else if (queen === undefined) row.say('queen', 'import-queen-unknown');
      const isYear = year !== null && Number.isInteger(year) && year >= 1900 && year <= 2200;
      if (!isYear && !Number.isNaN(year)) row.say('year', 'import-year');
      if (seen.has(`${code}\u0000${year}`)) row.say('queen', 'import-row-twice', { year: year ?? '' });
      seen.add(`${code}\u0000${year}`);
      const values = traits.map((trait) => ({ trait, value: row.amount(trait) }));
      if (queen === undefined || !isYear) return [];
      const told = values.filter(({ value }) => value !== null && !Number.isNaN(value));
      const colony = yard === '' ? null : colonies.idOf(`${code} ${year}`);
      const span = { span_from: firstDay(year), day: lastDay(year) };
      scores += told.length;
      return [
        ...(colony === null
          ? []
          : [
              creating('colony_place', newId(), {
                colony,
                yard: yards.idOf(yard),
                stood_from: span.span_from,
                stood_to: span.day,
              }),
            ]),
        ...told.map(({ trait, value }) =>
          creating('score', newId(), {
            queen: queen.id,
            colony,
            trait,
            value: value as number,
            ...span,
            judged_hers: 'wholly',
          }),
        ),
      ];
    });
    if (problems.length > 0) return refused(...problems);
    return { changes: [...yards.changes, ...colonies.changes, ...read.flat()], result: { rows: read.length, scores } };
  },
});
