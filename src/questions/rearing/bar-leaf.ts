import { z } from 'zod';
import { gatherBarCrosses } from '#gather/bar-crosses.ts';
import { crossesOfVirgins, virginCrossReads } from '#gather/virgins.ts';
import { dayShape, idShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { type Question, question } from '../mechanism/question.ts';
import { faceReads } from '../stock/queen-faces.ts';
import { type BarLine, gatherRaised, raisedReads } from './gather-raised.ts';

const input = z.strictObject({ graft: idShape, today: dayShape });

/** One cell of a bar and the queen who came out of it. */
export type CellLine = Row<'graft_cell'> & { queen: { id: string; code: string | null; cross: string | null } | null };

/** Everything about one bar. */
export type BarLeaf = {
  graft: Row<'graft'>;
  line: BarLine;
  cells: CellLine[];
  /** The crosses it was grafted for: one, or several that share it. */
  crosses: { id: string; code: string }[];
  /** The days the plan had it grafted on, one for each planned bar it is. */
  planned: Day[];
  starter: string | null;
  finisher: string | null;
};

/** The leaf of one bar: its dams, its cells and the queens who came out of them; `null` when there is none. */
export const barLeaf: Question<z.infer<typeof input>, BarLeaf | null, BarLeaf | null> = question({
  name: 'bar-leaf',
  what: 'Everything about one bar: dams, cells, earliest emergence, the queens who came out.',
  input,
  reads: [...raisedReads, ...faceReads, ...virginCrossReads, 'planned_graft', 'colony'],
  async gather({ graft: id }, facts) {
    const graft = await facts.get('graft', id);
    if (graft === null) return null;
    const { bars } = await gatherRaised(facts);
    const line = bars.find((bar) => bar.id === id);
    if (line === undefined) return null;
    const cells = await facts.find('graft_cell', { graft: id });
    const queens = await facts.find('queen', { cell: cells.map((cell) => cell.id) });
    const codes = new Map((await facts.find('cross')).map(({ id: cross, code }) => [cross, code]));
    const meant = await crossesOfVirgins(facts);
    const byCell = new Map(
      queens.map((queen) => {
        const cross = meant.get(queen.id);
        return [queen.cell, { id: queen.id, code: queen.code, cross: codes.get(cross as RecordId) ?? null }];
      }),
    );
    const crosses = (await gatherBarCrosses(facts))(id, null);
    return {
      graft,
      line,
      cells: cells
        .map((cell) => ({ ...cell, queen: byCell.get(cell.id) ?? null }))
        .sort((a, b) => a.position - b.position),
      crosses: crosses.map((cross) => ({ id: cross, code: codes.get(cross) ?? '' })),
      planned: [...new Set((await facts.find('planned_graft', { graft: id })).map(({ day }) => day))].sort(),
      starter: (await facts.get('colony', graft.starter))?.code ?? null,
      finisher: (await facts.get('colony', graft.finisher))?.code ?? null,
    };
  },
  answer: (leaf) => leaf,
});
