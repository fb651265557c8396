import { z } from 'zod';
import { crossReads } from '#gather/cross-plan.ts';
import { tasksOfCrosses } from '#gather/tasks-of-crosses.ts';
import { dayShape, idShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import { type Question, question } from '../mechanism/question.ts';
import { calendarEntries, type GoneEntry } from '../today/calendar-entries.ts';
import { gatherTaskLines, taskReads } from '../today/gather-tasks.ts';
import type { TaskLine } from '../today/task-line.ts';

import { type CrossCount, type CrossQueen, countQueens, crossQueenReads, gatherCrossQueens } from './cross-queens.ts';
import { type CrossSides, gatherSides, sideReads } from './cross-sides.ts';
import { type CrossStage, stageOf } from './crosses.ts';

const input = z.strictObject({ cross: idShape, today: dayShape });

/** Everything about one cross. */
export type CrossLeaf = {
  cross: Row<'cross'>;
  stage: CrossStage;
  sides: CrossSides;
  tasks: TaskLine[];
  /** Entries a calendar may hold of tasks that are not in the book any more. */
  gone: GoneEntry[];
  queens: CrossQueen[];
  count: CrossCount;
  combs: { id: string; code: string }[];
  bars: { id: string; code: string }[];
};

/** The leaf of one cross: its sides and whether they live, its days, its queens and their checks; `null` when there is none. */
export const crossLeaf: Question<z.infer<typeof input>, CrossLeaf | null, CrossLeaf | null> = question({
  name: 'cross-leaf',
  what: 'Everything about one cross: sides, stand-ins, days, queens and their checks.',
  input,
  reads: [...sideReads, ...crossReads, ...crossQueenReads, ...taskReads, 'drone_comb', 'graft'],
  async gather({ cross: id, today }, facts) {
    const cross = await facts.get('cross', id);
    if (cross === null) return null;
    const sides = await gatherSides(facts, today);
    const queens = (await gatherCrossQueens(facts, { faced: sides.faced, today })).get(id) ?? [];
    const count = countQueens(queens);
    const lines = await gatherTaskLines(facts, { today, cross: id });
    const code = (row: { id: string; code: string }) => ({ id: row.id, code: row.code });
    return {
      cross,
      stage: stageOf(cross, (await tasksOfCrosses(facts)).get(id) ?? [], count.inseminated, today),
      sides: sides.of(id),
      ...(await calendarEntries(facts, id, lines)),
      queens,
      count,
      combs: (await facts.find('drone_comb', { cross: id })).map(code),
      bars: (await facts.find('graft', { cross: id })).map(code),
    };
  },
  answer: (leaf) => leaf,
});
