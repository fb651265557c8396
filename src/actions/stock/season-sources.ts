import { z } from 'zod';
import { idShape } from '#records/field.ts';
import type { Day } from '#units/calendar-day.ts';
import { type Problem, refuse } from '#units/problem.ts';

/** The drone mothers, or groups of sisters, that stood at a mating place: each names one of the two. */
export const seasonSources = z
  .array(z.strictObject({ queen: idShape.optional(), sister_group: idShape.optional() }))
  .max(200);

type Sources = z.infer<typeof seasonSources>;

/** What a source is known by, whether as it is entered or as it is written. */
export const stoodAs = ({ queen, sister_group }: { queen?: string | null; sister_group?: string | null }): string =>
  `${queen ?? ''} ${sister_group ?? ''}`;

/** What keeps drone mothers from being written: one that names neither or both, one named twice. */
export function sourceProblems(sources: Sources): Problem[] {
  const known = new Set<string>();
  return sources.flatMap((source, i): Problem[] => {
    if ((source.queen === undefined) === (source.sister_group === undefined))
      return [refuse(`sources.${i}`, 'queen-or-group')];
    const isTwice = known.has(stoodAs(source));
    known.add(stoodAs(source));
    return isTwice ? [refuse(`sources.${i}`, 'stood-twice')] : [];
  });
}

/** What keeps the days drone mothers stood there from being written: the last before the first. */
export const standingProblems = (from: Day | null, to: Day | null): Problem[] =>
  from !== null && to !== null && to < from ? [refuse('stood_to', 'stood-backwards', { from, to })] : [];
