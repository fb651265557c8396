import { z } from 'zod';
import { taskOfCrossReads, tasksOfCrosses } from '#gather/tasks-of-crosses.ts';
import type { Facts } from '#ports/store.ts';
import { dayShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { type Question, question } from '../mechanism/question.ts';
import { isWork } from '../today/task-line.ts';
import { type CrossCount, countQueens, crossQueenReads, gatherCrossQueens } from './cross-queens.ts';
import { type CrossSides, gatherSides, sideReads } from './cross-sides.ts';

/** How far a cross has come. */
export type CrossStage = 'no-day' | 'planned' | 'raising' | 'today' | 'day-past' | 'inseminated' | 'given-up';

/** One cross as the list shows it. */
export type CrossLine = {
  id: string;
  code: string;
  purpose: string | null;
  day: Day | null;
  wanted: number;
  dose: number;
  stage: CrossStage;
  sides: CrossSides;
  count: CrossCount;
  /** The next thing to do for it. */
  next: { key: string; words: string | null; from: Day; late: boolean } | null;
};

/** How far a cross has come by its day, its tasks and its queens. */
export function stageOf(
  cross: Row<'cross'>,
  tasks: readonly Row<'task'>[],
  inseminated: number,
  today: Day,
): CrossStage {
  if (cross.cancelled === 1) return 'given-up';
  if (inseminated > 0) return 'inseminated';
  if (cross.inseminate_on === null) return 'no-day';
  if (cross.inseminate_on === today) return 'today';
  if (cross.inseminate_on < today) return 'day-past';
  const hasBegun = tasks.some(({ done_on }) => done_on !== null);
  return hasBegun ? 'raising' : 'planned';
}

/** The first task of a cross that is still to be done. */
export function nextTask(tasks: readonly Row<'task'>[], today: Day): CrossLine['next'] {
  const [first] = tasks
    .filter((task) => task.done_on === null && task.cancelled !== 1 && isWork(task.key))
    .sort((a, b) => (a.span_from < b.span_from ? -1 : 1));
  if (first === undefined) return null;
  return { key: first.key, words: first.words, from: first.span_from, late: first.span_to < today };
}

const input = z.strictObject({ today: dayShape });

const order: Readonly<Record<CrossStage, number>> = {
  today: 0,
  raising: 1,
  planned: 1,
  'day-past': 1,
  'no-day': 2,
  inseminated: 3,
  'given-up': 4,
};

const soonestFirst = (a: CrossLine, b: CrossLine) =>
  order[a.stage] - order[b.stage] || ((a.day ?? '9999') < (b.day ?? '9999') ? -1 : 1);

async function linesOf(facts: Facts, today: Day): Promise<CrossLine[]> {
  const sides = await gatherSides(facts, today);
  const queens = await gatherCrossQueens(facts, { faced: sides.faced, today });
  const tasks = await tasksOfCrosses(facts);
  return (await facts.find('cross')).map((cross) => {
    const own = tasks.get(cross.id) ?? [];
    const count = countQueens(queens.get(cross.id) ?? []);
    return {
      id: cross.id,
      code: cross.code,
      purpose: cross.purpose,
      day: cross.inseminate_on,
      wanted: cross.queens_wanted,
      dose: cross.dose_ul,
      stage: stageOf(cross, own, count.inseminated, today),
      sides: sides.of(cross.id),
      count,
      next: nextTask(own, today),
    };
  });
}

/** Every cross: what is next comes first, what is done after, what was given up last. */
export const crosses: Question<z.infer<typeof input>, CrossLine[], { crosses: CrossLine[] }> = question({
  name: 'crosses',
  what: 'Every cross with its sides, whether their queens live, how far it has come and what is next.',
  input,
  reads: [...sideReads, ...crossQueenReads, ...taskOfCrossReads],
  gather: ({ today }, facts) => linesOf(facts, today),
  answer: (lines) => ({ crosses: [...lines].sort(soonestFirst) }),
});
