import { z } from 'zod';
import { dayShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import { type Question, question } from '../mechanism/question.ts';
import { gatherVirgins, type Virgin, virginReads } from './gather-virgins.ts';

const input = z.strictObject({ today: dayShape });

/** A cross virgins can be meant for: queens wanted, and living virgins and inseminated queens it has. */
export type CrossOfVirgins = { id: string; code: string; day: Day | null; wanted: number; meant: number };

export type Virgins = { virgins: Virgin[]; crosses: CrossOfVirgins[] };
type Gathered = { all: Virgin[]; crosses: Row<'cross'>[]; done: ReadonlyMap<string, number> };

function crossesWith(virgins: readonly Virgin[], { crosses, done }: Gathered): CrossOfVirgins[] {
  const asked = new Set(
    virgins.flatMap(({ cross, couldBeFor }) => [...couldBeFor, ...(cross === null ? [] : [cross.id])]),
  );
  return crosses
    .filter(({ id }) => asked.has(id))
    .map(({ id, code, inseminate_on, queens_wanted }) => ({
      id,
      code,
      day: inseminate_on,
      wanted: queens_wanted,
      meant: virgins.filter(({ cross }) => cross?.id === id).length + (done.get(id) ?? 0),
    }));
}

/** The virgins waiting, with their age on the day of their cross and whether they had carbon dioxide; the missing first. */
export const virgins: Question<z.infer<typeof input>, Gathered, Virgins> = question({
  name: 'virgins',
  what: 'Virgins waiting: where they stand, their age on the insemination day, whether they had carbon dioxide.',
  input,
  reads: virginReads,
  async gather({ today }, facts) {
    const done = groupBy(await facts.find('insemination', { done: 1 }), ({ cross }) => cross ?? '');
    return {
      all: await gatherVirgins(facts, today),
      crosses: await facts.find('cross'),
      done: new Map([...done].map(([cross, rows]) => [cross, new Set(rows.map(({ queen }) => queen)).size])),
    };
  },
  answer(gathered) {
    const living = gathered.all.filter(({ living: state }) => state !== 'gone');
    return { virgins: living, crosses: crossesWith(living, gathered) };
  },
});
