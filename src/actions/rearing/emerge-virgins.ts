import { z } from 'zod';
import type { Change } from '#ports/store.ts';
import { dayShape, idShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { type Problem, refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { action, type Circumstances } from '../mechanism/action.ts';
import { creating, setting } from '../mechanism/recording.ts';
import { plannedBarDone } from './season/raised-as-planned.ts';
import { doneByAct } from './task-of.ts';

const virginShape = z.strictObject({
  position: z.int().min(1),
  /** Her code, when she gets one now; else she is called by bar and cell until she does. */
  code: z.string().trim().min(1).max(200).optional(),
  disc: z.int().min(0).max(999).optional(),
  cage: idShape.optional(),
});
type Virgin = z.infer<typeof virginShape>;

const input = z.strictObject({
  graft: idShape,
  on: dayShape.optional(),
  virgins: z.array(virginShape).min(1).max(500),
});

type Bar = {
  graft: Row<'graft'>;
  cells: ReadonlyMap<number, Row<'graft_cell'>>;
  ranges: readonly Row<'graft_range'>[];
  /** Positions a queen was made of before. */
  hatched: ReadonlySet<RecordId>;
};

function virginProblems(virgins: readonly Virgin[], { graft, cells, hatched }: Bar): Problem[] {
  const seen = new Set<number>();
  return virgins.flatMap(({ position }, i): Problem[] => {
    const cell = cells.get(position);
    const at = `virgins.${i}.position`;
    if (cell === undefined) return [refuse(at, 'no-such-cell', { position, bar: graft.code })];
    if (seen.has(position) || hatched.has(cell.id)) return [refuse(at, 'cell-hatched', { position, bar: graft.code })];
    seen.add(position);
    return [];
  });
}

const damAt = (ranges: Bar['ranges'], position: number): RecordId | null =>
  ranges.find(({ position_from, position_to }) => position_from <= position && position <= position_to)?.dam ?? null;

/** A queen out of her cell: she knows her place on the bar, hence her dam; her mark and cage when she gets them now. */
function emerging(virgin: Virgin, on: Day, bar: Bar, newId: Circumstances['newId']): Change[] {
  const cell = bar.cells.get(virgin.position);
  if (cell === undefined) return [];
  const queen = newId();
  const dam = damAt(bar.ranges, virgin.position);
  const { code, disc, cage } = virgin;
  return [
    creating('queen', queen, {
      code: code ?? null,
      emerged: on,
      emerged_sure: 'known',
      dam,
      dam_sure: dam === null ? null : 'known',
      cell: cell.id,
      origin: 'bred',
    }),
    setting('graft_cell', cell.id, { accepted: 1, emerged_on: on }),
    ...(disc === undefined ? [] : [creating('mark', newId(), { queen, disc, worn_from: on })]),
    ...(cage === undefined
      ? []
      : [creating('stay', newId(), { queen, cage, role: 'caged', from_earliest: on, from_latest: on })]),
  ];
}

async function readBar(book: Circumstances['book'], graft: Row<'graft'>): Promise<Bar> {
  const cells = await book.find('graft_cell', { graft: graft.id });
  const queens = await book.find('queen', { cell: cells.map(({ id }) => id) });
  return {
    graft,
    cells: new Map(cells.map((cell) => [cell.position, cell])),
    ranges: await book.find('graft_range', { graft: graft.id }),
    hatched: new Set(queens.flatMap(({ cell }) => (cell === null ? [] : [cell]))),
  };
}

/** Writes down virgins that emerged from cells of a bar: each a queen of her dam, called "bar, cell" until she has a code. */
export const emergeVirgins = action({
  name: 'emerge-virgins',
  place: 'rearing',
  what: 'Write down virgins that emerged: each becomes a queen who knows her bar, cell and dam; code, disc and cage if given.',
  input,
  async run({ graft, on, virgins }, { book, newId, day }) {
    const row = await book.get('graft', graft);
    if (row === null)
      return { changes: [], result: null, problems: [refuse('graft', 'unknown-record', { kind: 'graft', id: graft })] };
    const bar = await readBar(book, row);
    const problems = virginProblems(virgins, bar);
    if (problems.length > 0) return { changes: [], result: null, problems };
    const emerged = on ?? day;
    const changes = virgins.flatMap((virgin) => emerging(virgin, emerged, bar, newId));
    const queens = changes.filter((change) => change.kind === 'queen').map(({ id }) => id);
    const keys = ['cells-out', 'virgins-emerge'];
    const done = await doneByAct(book, { cross: row.cross, keys, on: emerged });
    const planned = await plannedBarDone(book, { graft, keys, on: emerged });
    return { changes: [...changes, ...done, ...planned], result: { id: graft, queens } };
  },
});
