import { completeShares } from '#domain/pedigree/files/mating-text.ts';
import { DRONES_PER_EFFECTIVE } from '#domain/semen/effective-drones.ts';
import { DRONES_WHEN_NOT_SAID } from '#domain/semen/mating-facts.ts';
import { eachPlainRow, readPlainTable } from '#domain/stock-book/plain-table.ts';
import type { Change } from '#ports/store.ts';
import { groupBy } from '#units/group-by.ts';
import type { Moment } from '#units/moment.ts';
import { type Problem, refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { action, type Circumstances } from '../mechanism/action.ts';
import { creating, setting } from '../mechanism/recording.ts';
import { sampleStands } from '../sample/sample-stands.ts';
import { batchTubes } from './batches.ts';
import { notUploaded, plainInput, queensByCode, refused, uploaded } from './plain-input.ts';

type SemenRow = { row: number; batch: string; source: string; share: number | null; drones: number | null };
type Part = SemenRow & { part: number };

/** µl a batch is given when nothing was drawn from it yet. */
const NOMINAL = 100;

function readSemen(bytes: Uint8Array): { rows: SemenRow[]; problems: Problem[] } {
  const table = readPlainTable(bytes, ['batch', 'source']);
  if ('problems' in table) return { rows: [], problems: table.problems };
  const { read, problems } = eachPlainRow(table, (row): SemenRow => {
    const [batch, source] = [row.text('batch'), row.text('source')];
    if (batch === '') row.say('batch', 'import-code-missing');
    if (source === '') row.say('source', 'import-code-missing');
    const positive = (column: 'share' | 'drones') => {
      const value = row.amount(column);
      if (value !== null && !(value > 0) && !Number.isNaN(value)) row.say(column, 'import-not-above-zero');
      return value;
    };
    return { row: row.number, batch, source, share: positive('share'), drones: positive('drones') };
  });
  return { rows: read, problems };
}

/** The parts of each batch with their shares completed, or which batch's shares do not add up. */
function partsOf(rows: readonly SemenRow[]): { batches: Map<string, Part[]>; problems: Problem[] } {
  const batches = new Map<string, Part[]>();
  const problems: Problem[] = [];
  for (const [batch, sources] of groupBy(rows, (row) => row.batch)) {
    const shares = completeShares(sources.map(({ share }) => share));
    const at = sources[0]?.row ?? 0;
    if (typeof shares === 'string')
      problems.push(refuse(`rows.${at}.share`, 'import-shares', { row: at, column: 'share', found: batch }));
    else
      batches.set(
        batch,
        sources.map((source, i) => ({ ...source, part: shares.shares[i] ?? 0 })),
      );
  }
  return { batches, problems };
}

/** Batches in an order in which each comes after those it was drawn from; those left over draw from each other in a loop. */
function inOrder(batches: ReadonlyMap<string, readonly Part[]>): { order: string[]; looped: string[] } {
  const order: string[] = [];
  const waiting = new Set(batches.keys());
  for (let before = -1; before !== waiting.size; ) {
    before = waiting.size;
    for (const batch of waiting)
      if (!(batches.get(batch) ?? []).some(({ source }) => waiting.has(source))) {
        order.push(batch);
        waiting.delete(batch);
      }
  }
  return { order, looped: [...waiting] };
}

/** µl of each batch: what was drawn from it, by queens and by other batches. Volumes are not in the table; shares are what counts. */
function volumes(
  order: readonly string[],
  batches: ReadonlyMap<string, readonly Part[]>,
  doses: ReadonlyMap<string, number>,
): Map<string, number> {
  const needs = new Map<string, number>();
  for (const batch of [...order].reverse()) {
    const volume = (doses.get(batch) ?? 0) + (needs.get(batch) ?? 0) || NOMINAL;
    needs.set(batch, volume);
    for (const { source, part } of batches.get(batch) ?? [])
      if (batches.has(source)) needs.set(source, (needs.get(source) ?? 0) + part * volume);
  }
  return needs;
}

type Filling = {
  circumstances: Circumstances;
  tubeOf: (batch: string) => RecordId;
  at: Moment;
  places: { next: number };
};
type Source = { queen: RecordId } | { group: RecordId } | { batch: string } | 'open';

function fillWith(
  tube: RecordId,
  { source, part, volume }: { source: Source; part: Part; volume: number },
  filling: Filling,
): Change[] {
  const { newId, day } = filling.circumstances;
  const line = { tube, moment: filling.at, volume_ul: volume, place: filling.places.next++ };
  if (typeof source === 'object' && 'batch' in source)
    return [creating('ledger_line', newId(), { ...line, step: 'drawn-over', from_tube: filling.tubeOf(source.batch) })];
  const from = newId();
  const mother = typeof source === 'object' && 'queen' in source ? source.queen : null;
  const group = typeof source === 'object' && 'group' in source ? source.group : null;
  // A count stands for count ÷ 1.36 effective drones; the table's number is effective already.
  const drones = (part.drones ?? DRONES_WHEN_NOT_SAID) * DRONES_PER_EFFECTIVE;
  return [
    creating('drone_catch', from, { day, stranger_share: source === 'open' ? 1 : null }),
    ...(source === 'open'
      ? []
      : [creating('drone_catch_source', newId(), { catch: from, mother, sister_group: group })]),
    creating('ledger_line', newId(), { ...line, step: 'collected', catch: from, semen_ul: volume, drones }),
  ];
}

/** Brings a plain table of semen batches: what each was mixed from. Its queens may have been brought before or come after. */
export const importSemen = action({
  name: 'import-semen',
  place: 'semen',
  what: 'Bring an uploaded table of semen batches (batch, source, share, drones) into the book.',
  input: plainInput,
  prepare: ({ hash }, ports) => uploaded(hash, ports),
  async run(_, circumstances, bytes) {
    if (bytes === null) return notUploaded();
    const sample = await sampleStands(circumstances.book);
    if (sample.length > 0) return refused(...sample);
    const { book, newId, done } = circumstances;
    const { rows, problems } = readSemen(bytes);
    const { batches, problems: shareProblems } = partsOf(rows);
    const queens = await queensByCode(book);
    const groups = new Map((await book.find('sister_group')).map(({ id, code }) => [code, id]));
    const tubes = await batchTubes(book, newId);
    const lines = await book.find('ledger_line');
    const known = new Map((await book.find('tube')).map(({ id, code }) => [code, id]));
    const { order, looped } = inOrder(batches);
    const wrong = [...problems, ...shareProblems];
    const say = ({ row }: SemenRow, column: string, code: string, found: string) =>
      void wrong.push(refuse(`rows.${row}.${column}`, code, { row, column, found }));
    const sourceOf = (part: Part): Source => {
      const { source } = part;
      if (source.toLowerCase() === 'open') return 'open';
      const [queen, group] = [queens.get(source), groups.get(source)];
      if (batches.has(source) && queen !== undefined) say(part, 'source', 'import-code-both', source);
      if (batches.has(source) || known.has(source)) return { batch: source };
      if (queen !== undefined) return { queen: queen.id };
      if (group !== undefined) return { group };
      say(part, 'source', 'import-source-unknown', source);
      return 'open';
    };
    const sources = new Map([...batches.values()].flat().map((part) => [part, sourceOf(part)]));
    for (const batch of looped) {
      const [first] = batches.get(batch) ?? [];
      if (first !== undefined) say(first, 'source', 'import-batch-loop', batch);
    }
    for (const batch of order) {
      const [first] = batches.get(batch) ?? [];
      const filled = lines.some(({ tube, step }) => tube === known.get(batch) && step !== 'dose');
      if (first !== undefined && filled) say(first, 'batch', 'import-batch-filled', batch);
    }
    if (wrong.length > 0) return refused(...wrong);
    const doses = new Map(
      order.map((batch) => [
        batch,
        lines.filter(({ tube }) => tube === known.get(batch)).reduce((sum, { volume_ul }) => sum + (volume_ul ?? 0), 0),
      ]),
    );
    const volumeOf = volumes(order, batches, doses);
    const given = lines
      .filter(({ step }) => step === 'dose')
      .map(({ moment }) => moment)
      .sort();
    const filling: Filling = { circumstances, tubeOf: tubes.idOf, at: given[0] ?? done, places: { next: 0 } };
    const changes = order.flatMap((batch) => {
      const tube = tubes.idOf(batch);
      const volume = volumeOf.get(batch) ?? NOMINAL;
      const filled = (batches.get(batch) ?? []).flatMap((part) =>
        fillWith(tube, { source: sources.get(part) ?? 'open', part, volume: part.part * volume }, filling),
      );
      const mixed = creating('ledger_line', newId(), {
        tube,
        moment: filling.at,
        step: 'homogenised',
        place: filling.places.next++,
      });
      return [...filled, mixed];
    });
    // What fills a batch stands before the doses that were written of it already.
    const ours = new Set(order.map((batch) => known.get(batch)));
    const later = lines
      .filter(({ tube }) => ours.has(tube))
      .map(({ id, place }) => setting('ledger_line', id, { place: place + filling.places.next }));
    return { changes: [...tubes.changes, ...changes, ...later], result: { batches: order.length } };
  },
});
