import type { Assumption } from '../pedigree/assumption.ts';
import type { PedigreeIndex } from './drone-side.ts';

/** Names of every queen and pool that stands behind some queens (they themselves and what they carry included). */
export function namesBehind(queens: readonly string[], index: PedigreeIndex): Set<string> {
  const names = new Set<string>();
  const seen = new Set<string>();
  const next: { queen?: string; pool?: string }[] = queens.map((queen) => ({ queen }));
  while (next.length > 0) {
    const at = next.pop();
    const id = at?.queen ?? at?.pool;
    if (at === undefined || id === undefined || seen.has(id)) continue;
    seen.add(id);
    if (at.queen !== undefined) {
      const her = index.queens.get(id);
      names.add(her?.code ?? id);
      const dam = her?.dam == null ? undefined : index.queens.get(her.dam);
      for (const pool of [her?.pool, her?.fromPool, dam?.pool]) if (pool != null) next.push({ pool });
      if (dam !== undefined) next.push({ queen: dam.id });
    } else {
      const pool = index.pools.get(id);
      names.add(pool?.name ?? id);
      for (const source of pool?.sources ?? [])
        if ('queen' in source) next.push({ queen: source.queen });
        else if ('pool' in source) next.push({ pool: source.pool });
    }
  }
  return names;
}

const aboutOf = (assumption: Assumption): string => {
  if (assumption.code === 'taken-for-granted') return assumption.about;
  return 'queen' in assumption ? assumption.queen : assumption.pool;
};

/** Of all assumptions about a stock, those that numbers about these queens rest on. */
export function assumptionsBehind(
  queens: readonly string[],
  index: PedigreeIndex,
  assumptions: readonly Assumption[],
): Assumption[] {
  const names = namesBehind(queens, index);
  return assumptions.filter((assumption) => names.has(aboutOf(assumption)));
}
