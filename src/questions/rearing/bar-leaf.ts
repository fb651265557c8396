import { z } from 'zod';
import { dayShape, idShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import { type Question, question } from '../mechanism/question.ts';
import { faceReads } from '../stock/queen-faces.ts';
import { type BarLine, gatherRaised, raisedReads } from './gather-raised.ts';

const input = z.strictObject({ graft: idShape, today: dayShape });

/** One cell of a bar and the queen who came out of it. */
export type CellLine = Row<'graft_cell'> & { queen: { id: string; code: string | null } | null };

/** Everything about one bar. */
export type BarLeaf = {
  graft: Row<'graft'>;
  line: BarLine;
  cells: CellLine[];
  cross: { id: string; code: string } | null;
  starter: string | null;
  finisher: string | null;
};

/** The leaf of one bar: its dams, its cells and the queens who came out of them; `null` when there is none. */
export const barLeaf: Question<z.infer<typeof input>, BarLeaf | null, BarLeaf | null> = question({
  name: 'bar-leaf',
  what: 'Everything about one bar: dams, cells, earliest emergence, the queens who came out.',
  input,
  reads: [...raisedReads, ...faceReads, 'cross', 'colony'],
  async gather({ graft: id }, facts) {
    const graft = await facts.get('graft', id);
    if (graft === null) return null;
    const { bars } = await gatherRaised(facts);
    const line = bars.find((bar) => bar.id === id);
    if (line === undefined) return null;
    const cells = await facts.find('graft_cell', { graft: id });
    const queens = await facts.find('queen', { cell: cells.map((cell) => cell.id) });
    const byCell = new Map(queens.map((queen) => [queen.cell, { id: queen.id, code: queen.code }]));
    const cross = await facts.get('cross', graft.cross);
    return {
      graft,
      line,
      cells: cells
        .map((cell) => ({ ...cell, queen: byCell.get(cell.id) ?? null }))
        .sort((a, b) => a.position - b.position),
      cross: cross === null ? null : { id: cross.id, code: cross.code },
      starter: (await facts.get('colony', graft.starter))?.code ?? null,
      finisher: (await facts.get('colony', graft.finisher))?.code ?? null,
    };
  },
  answer: (leaf) => leaf,
});
