import type { PedigreeFacts, PoolFact, QueenFact, SourceFact } from '../pedigree/facts.ts';
import { descentProblems } from '../pedigree/pedigree.ts';
import type { ImportPlan, PlannedMating, QueenRef } from './plan.ts';

const BOOK = 'book ';
const idOf = (ref: QueenRef): string => ('book' in ref ? `${BOOK}${ref.book}` : ref.planned);

function sourceOf(part: Extract<PlannedMating, { how: 'inseminated' }>['parts'][number]): SourceFact[] {
  if (part.of === 'open') return [{ open: true, share: part.share, drones: 10 }];
  if ('line' in part.of) return [];
  return [{ queen: 'group' in part.of ? `group ${part.of.group}` : idOf(part.of), share: part.share, drones: 10 }];
}

/** The plan as a pedigree of its own; queens of the book stand in it as founders, since none of them descends from a new one. */
function pedigreeOf({ queens, groups }: Pick<ImportPlan, 'queens' | 'groups'>): PedigreeFacts {
  const pools: PoolFact[] = [];
  const inBook = new Set<string>();
  const noted = (ref: QueenRef | null): string | null => {
    if (ref === null) return null;
    if ('book' in ref) inBook.add(idOf(ref));
    return idOf(ref);
  };
  const facts = queens.map(({ key, dam, mating }): QueenFact => {
    const sources = mating?.how === 'inseminated' ? mating.parts.flatMap(sourceOf) : [];
    for (const source of sources) if ('queen' in source && source.queen.startsWith(BOOK)) inBook.add(source.queen);
    if (sources.length > 0) pools.push({ id: `semen ${key}`, sources });
    return { id: key, dam: noted(dam), pool: sources.length > 0 ? `semen ${key}` : null };
  });
  const asGroups = groups.map(
    ({ key, dam, size }): QueenFact => ({ id: `group ${key}`, dam: noted(dam), sisters: size }),
  );
  return { queens: [...facts, ...asGroups, ...[...inBook].map((id) => ({ id }))], pools };
}

/** A loop in the descent of a plan: the key of the queen it is told at, and everybody on the way. */
export type PlanLoop = { key: string; keys: string[] };

/** Queens who would descend from themselves, through dams or through semen. */
export function findLoops(plan: Pick<ImportPlan, 'queens' | 'groups'>): PlanLoop[] {
  return descentProblems(pedigreeOf(plan))
    .filter(({ code }) => code === 'pedigree-loop')
    .map(({ values }) => {
      const keys = String(values.loop)
        .split(' from ')
        .map((name) => name.replace(/^semen /, ''))
        .filter((key, i, all) => all.indexOf(key) === i);
      return { key: keys.find((key) => !key.startsWith('group ')) ?? '', keys };
    });
}
