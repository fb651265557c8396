import { z } from 'zod';
import type { Change } from '#ports/store.ts';
import { dayShape, idShape } from '#records/field.ts';
import type { Entry, Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { setting } from '../mechanism/recording.ts';
import { plannedBarDone } from './season/raised-as-planned.ts';
import { doneByAct } from './task-of.ts';

const input = z.strictObject({
  graft: idShape,
  /**
   * What was seen of the cells at `positions`: accepted (all others of the bar were not), sealed, taken out of the finisher, lost,
   * or given to somebody. Emerged virgins have an act of their own.
   */
  what: z.enum(['accepted', 'sealed', 'out', 'lost', 'given']),
  positions: z.array(z.int().min(1)).max(500),
  on: dayShape.optional(),
  /** Who got the cells, when they were given. */
  given_to: z.string().trim().min(1).max(200).optional(),
});
type Input = z.infer<typeof input>;
type Set = Partial<Entry<'graft_cell'>>;

function setFor({ what, given_to }: Input, on: Day): Set {
  switch (what) {
    case 'accepted':
      return { accepted: 1 };
    case 'sealed':
      return { accepted: 1, sealed_on: on };
    case 'out':
      return { accepted: 1, out_on: on };
    case 'given':
      return { given_to: given_to ?? '' };
    default:
      return { lost: 1 };
  }
}

/** Cells of a bar that were not accepted; only counting acceptance says anything about the others. */
function notAccepted(cells: readonly Row<'graft_cell'>[], { what, positions }: Input): Change[] {
  if (what !== 'accepted') return [];
  return cells
    .filter(({ position, accepted }) => !positions.includes(position) && accepted !== 0)
    .map(({ id }) => setting('graft_cell', id, { accepted: 0 }));
}

/** Writes down what became of the cells of a bar: accepted, sealed, out, lost or given away. */
export const recordCells = action({
  name: 'record-cells',
  place: 'rearing',
  what: 'Write down what became of the cells of a bar: accepted, sealed, taken out, lost, given away.',
  input,
  async run(given, { book, day }) {
    const graft = await book.get('graft', given.graft);
    const no = (path: string, code: string, values: Record<string, string | number>) => ({
      changes: [],
      result: null,
      problems: [refuse(path, code, values)],
    });
    if (graft === null) return no('graft', 'unknown-record', { kind: 'graft', id: given.graft });
    if (given.what === 'given' && given.given_to === undefined) return no('given_to', 'needed', {});
    const cells = await book.find('graft_cell', { graft: given.graft });
    const there = new Map(cells.map((cell) => [cell.position, cell]));
    const missing = given.positions.find((position) => !there.has(position));
    if (missing !== undefined) return no('positions', 'no-such-cell', { position: missing, bar: graft.code });
    const on = given.on ?? day;
    const set = setFor(given, on);
    const named = given.positions.flatMap((position) => there.get(position) ?? []);
    const keys = given.what === 'out' ? ['cells-out'] : [];
    return {
      changes: [
        ...named.map(({ id }) => setting('graft_cell', id, set)),
        ...notAccepted(cells, given),
        ...(await plannedBarDone(book, { graft: given.graft, keys, on })),
        ...(await doneByAct(book, { cross: graft.cross, keys, on })),
      ],
      result: { id: given.graft },
    };
  },
});
