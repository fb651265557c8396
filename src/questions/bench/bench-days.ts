import { z } from 'zod';
import type { Facts } from '#ports/store.ts';
import { dayShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import { question } from '../mechanism/question.ts';

/** A day at the microscope in one line. */
export type BenchDayLine = {
  id: string;
  day: Day;
  place: string | null;
  operator: string | null;
  crosses: readonly string[];
  queued: number;
  doses: number;
  notDone: number;
  closed: boolean;
};

/** A cross whose insemination is to come. */
export type CrossToCome = { id: string; code: string; day: Day | null; queens: number; given: number };

const input = z.strictObject({ today: dayShape });

type Gathered = {
  days: readonly Row<'bench_day'>[];
  queues: readonly Row<'bench_queen'>[];
  inseminations: readonly Row<'insemination'>[];
  crosses: readonly Row<'cross'>[];
  persons: readonly Row<'person'>[];
};

const gather = async (facts: Facts): Promise<Gathered> => ({
  days: await facts.find('bench_day'),
  queues: await facts.find('bench_queen'),
  inseminations: await facts.find('insemination'),
  crosses: (await facts.find('cross')).filter(({ cancelled }) => cancelled !== 1),
  persons: await facts.find('person'),
});

function linesOf({ days, queues, inseminations, crosses, persons }: Gathered): BenchDayLine[] {
  const codes = new Map(crosses.map(({ id, code }) => [id, code]));
  const names = new Map(persons.map(({ id, name }) => [id, name]));
  const queued = groupBy(queues, ({ bench_day }) => bench_day);
  const done = groupBy(inseminations, ({ bench_day }) => bench_day);
  return days
    .map(({ id, day, place, operator, closed }) => {
      const rows = queued.get(id) ?? [];
      const given = done.get(id) ?? [];
      return {
        id,
        day,
        place,
        operator: operator === null ? null : (names.get(operator) ?? null),
        crosses: [...new Set(rows.map(({ cross }) => codes.get(cross) ?? '–'))],
        queued: rows.length,
        doses: given.filter((row) => row.done === 1).length,
        notDone: given.filter((row) => row.done === 0).length,
        closed: closed !== null,
      };
    })
    .sort((a, b) => (a.day < b.day ? 1 : -1));
}

/** Crosses with queens still to be inseminated, the nearest day first. */
function toCome({ crosses, inseminations }: Gathered): CrossToCome[] {
  const done = groupBy(
    inseminations.filter((row) => row.done === 1),
    ({ cross }) => cross,
  );
  return crosses
    .map(({ id, code, inseminate_on, queens_wanted, doses }) => {
      const given = done.get(id)?.length ?? 0;
      return { id, code, day: inseminate_on, queens: queens_wanted, given, open: given < queens_wanted * (doses ?? 1) };
    })
    .filter(({ open }) => open)
    .map(({ open: _, ...line }) => line)
    .sort((a, b) => ((a.day ?? '9999') < (b.day ?? '9999') ? -1 : 1));
}

/** Days at the microscope, the newest first, and the crosses whose day is to come. */
export const benchDays = question({
  name: 'bench-days',
  what: 'Days at the microscope, the newest first, and the crosses still to be inseminated.',
  input,
  reads: ['bench_day', 'bench_queen', 'insemination', 'cross', 'person'],
  gather: (_, facts) => gather(facts),
  answer: (gathered) => ({ days: linesOf(gathered), toCome: toCome(gathered) }),
});
