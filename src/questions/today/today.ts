import { z } from 'zod';
import type { Facts } from '#ports/store.ts';
import { dayShape } from '#records/field.ts';
import type { KindName } from '#records/kinds.ts';
import { addDays, type Day } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { Problem } from '#units/problem.ts';
import { type Question, question } from '../mechanism/question.ts';
import { gatherTaskLines, taskReads } from './gather-tasks.ts';
import { isWork, type TaskLine } from './task-line.ts';

const input = z.strictObject({ today: dayShape });

/** What is to be done in one yard (or, without a yard, at home and at the bench), with what to carry there. */
export type YardWork = {
  yard: string | null;
  /** Late first, then due, then what runs by itself, then what was ticked today. */
  lines: TaskLine[];
  /** Kinds of open tasks there: each names what to carry. */
  carry: { key: string; queens: number }[];
};

/** One day of the strip: how much work begins on it, and the crosses whose insemination day it is. */
export type WeekDay = { day: Day; work: number; crosses: { id: string; code: string }[] };

/** Something recorded that did not fit, standing open. `about` names its record. */
export type OpenWorry = {
  id: string;
  problem: Pick<Problem, 'code' | 'values'>;
  aboutKind: KindName | null;
  about: string | null;
};

/** Everything Today shows. */
export type TodayAnswer = {
  today: YardWork[];
  tomorrow: YardWork[];
  late: number;
  week: WeekDay[];
  worries: OpenWorry[];
  /** Crosses whose insemination day is today. */
  bench: { id: string; code: string; queens: number }[];
  /** Nothing has been written down yet. */
  isEmpty: boolean;
};

type Gathered = {
  lines: TaskLine[];
  worries: OpenWorry[];
  crosses: { id: string; code: string; day: Day | null; queens: number }[];
  yards: { name: string; order: number }[];
  isEmpty: boolean;
};

async function worriesOf(facts: Facts): Promise<OpenWorry[]> {
  return (await facts.find('worry', { settled_on: null })).map(({ id, code, said, about_kind, about }) => ({
    id,
    problem: { code, values: JSON.parse(said) as Problem['values'] },
    aboutKind: about_kind as KindName | null,
    about,
  }));
}

const RANK: Readonly<Record<string, number>> = { late: 0, due: 1, running: 2, done: 3 };
const urgentFirst = (a: TaskLine, b: TaskLine) =>
  (RANK[a.state] ?? 4) - (RANK[b.state] ?? 4) || (a.from < b.from ? -1 : Number(a.from > b.from));

function carryOf(lines: readonly TaskLine[]): YardWork['carry'] {
  const open = lines.filter(({ state, key }) => state !== 'done' && isWork(key) && key !== 'own');
  const byKey = groupBy(open, ({ key }) => key);
  return [...byKey].map(([key, same]) => ({ key, queens: same.reduce((sum, { queens }) => sum + queens, 0) }));
}

/** Work grouped by yard, in walking order; what belongs to no yard comes last. */
function byYard(lines: readonly TaskLine[], yards: Gathered['yards']): YardWork[] {
  const order = new Map(yards.map(({ name, order: at }) => [name, at]));
  const at = (yard: string | null) => (yard === null ? Number.POSITIVE_INFINITY : (order.get(yard) ?? 1e9));
  return [...groupBy(lines, ({ yard }) => yard)]
    .sort(([a], [b]) => at(a) - at(b) || ((a ?? '') < (b ?? '') ? -1 : 1))
    .map(([yard, of]) => ({ yard, lines: [...of].sort(urgentFirst), carry: carryOf(of) }));
}

const isToday = (today: Day) => (line: TaskLine) =>
  line.state === 'late' ||
  line.state === 'due' ||
  line.state === 'running' ||
  (line.state === 'done' && line.doneOn === today);

function weekFrom(today: Day, { lines, crosses }: Gathered): WeekDay[] {
  return Array.from({ length: 7 }, (_, i) => {
    const day = addDays(today, i);
    const begins = lines.filter(({ from, state, key }) => from === day && isWork(key) && state !== 'cancelled');
    return { day, work: begins.length, crosses: crosses.filter((cross) => cross.day === day) };
  });
}

/** What is due, late and coming, by yard and by what to carry; open worries; the week. */
export const todayQuestion: Question<z.infer<typeof input>, Gathered, TodayAnswer> = question({
  name: 'today',
  what: 'What is due, late and coming, by yard and by what to carry, with open worries and the week ahead.',
  input,
  reads: [...taskReads, 'worry', 'colony', 'tube'],
  async gather({ today }, facts) {
    const crosses = (await facts.find('cross')).filter(({ cancelled }) => cancelled !== 1);
    const written = [];
    for (const kind of ['queen', 'cross', 'colony', 'tube', 'task'] as const) written.push(await facts.count(kind));
    return {
      lines: await gatherTaskLines(facts, { today }),
      worries: await worriesOf(facts),
      crosses: crosses.map(({ id, code, inseminate_on, queens_wanted }) => ({
        id,
        code,
        day: inseminate_on,
        queens: queens_wanted,
      })),
      yards: (await facts.find('yard')).map(({ name, walking_order }) => ({ name, order: walking_order ?? 1e6 })),
      isEmpty: written.every((count) => count === 0),
    };
  },
  answer(gathered, { today }): TodayAnswer {
    const { lines, worries, crosses, yards, isEmpty } = gathered;
    const tomorrow = addDays(today, 1);
    return {
      today: byYard(lines.filter(isToday(today)), yards),
      tomorrow: byYard(
        lines.filter(({ from, state }) => from === tomorrow && state === 'planned'),
        yards,
      ),
      late: lines.filter(({ state }) => state === 'late').length,
      week: weekFrom(today, gathered),
      worries,
      bench: crosses.filter(({ day }) => day === today).map(({ id, code, queens }) => ({ id, code, queens })),
      isEmpty,
    };
  },
});
