/** Whether the yards of a test can be compared at all: colonies alone in their yard-year, and yards without a family in common. */
import type { Pedigree } from '../pedigree/laid-pedigree.ts';
import { FROM_QUEEN, NONE, sourcesOf } from '../pedigree/stock.ts';
import type { Records } from './records.ts';

/** What cannot be compared; levels by name. */
export type Connectedness = {
  /** Levels of the leading fixed effect with one recorded colony: its record tells nothing. */
  alone: string[];
  /** Levels that hang together by dams or drone mothers of their colonies, the largest set first; more than one set cannot be compared. */
  sets: string[][];
};

/**
 * Levels of the leading effect that cannot be compared: with one recorded colony, and sets without a family in common. Two levels hang together when a colony
 * of the one and a colony of the other have the queen, a dam or a drone mother in common (of the pool she descends from or of the one she carries), directly
 * or over further levels; own reading of connectedness in a design (Searle 1987, Linear Models for Unbalanced Data, from memory). Drones of open matings join
 * nothing. Without an effect both lists are empty. Time grows with records × drone mothers of a pool.
 * @example const { pedigree, records } = workedPrepared();
 * connectedness(pedigree, records) // { alone: [], sets: [['1:2025', '2:2025']] }; daughters of A stand in both
 */
export function connectedness(pedigree: Pedigree, records: Records): Connectedness {
  const factor = records.factors[0];
  if (factor === undefined) return { alone: [], sets: [] };
  const colonies = new Map<number, Set<number>>();
  const parentOf = Int32Array.from({ length: factor.names.length }, (_, k) => k);
  const root = (k: number): number => {
    let at = k;
    while (parentOf[at] !== at) at = parentOf[at] as number;
    return at;
  };
  const levelOfParent = new Map<number, number>();
  for (let r = 0; r < records.count; r++) {
    const queen = records.queen[r] as number;
    const level = factor.level[r] as number;
    colonies.set(level, (colonies.get(level) ?? new Set()).add(queen));
    for (const parent of parents(pedigree, queen)) {
      const other = levelOfParent.get(parent);
      if (other === undefined) levelOfParent.set(parent, level);
      else parentOf[root(level)] = root(other);
    }
  }
  const sets = new Map<number, string[]>();
  for (const level of colonies.keys())
    sets.set(root(level), [...(sets.get(root(level)) ?? []), factor.names[level] as string]);
  return {
    alone: [...colonies].filter(([, queens]) => queens.size === 1).map(([level]) => factor.names[level] as string),
    sets: [...sets.values()].sort((a, b) => b.length - a.length),
  };
}

/** The queen herself, her dam, and the drone mothers of the pool she descends from and of the one she carries. */
function parents(pedigree: Pedigree, queen: number): number[] {
  const { columns } = pedigree.stock;
  const dam = columns.dam[queen] as number;
  const from = columns.fromPool[queen] !== NONE ? columns.fromPool[queen] : dam === NONE ? NONE : columns.carries[dam];
  return [
    queen,
    ...(dam === NONE ? [] : [dam]),
    ...droneMothers(pedigree, from as number),
    ...droneMothers(pedigree, columns.carries[queen] as number),
  ];
}

function droneMothers({ stock }: Pedigree, pool: number): number[] {
  if (pool === NONE) return [];
  const { columns } = stock;
  const [from, to] = sourcesOf(columns, pool);
  const out: number[] = [];
  for (let s = from; s < to; s++) {
    const ref = columns.sourceRef[s] as number;
    if (columns.sourceKind[s] === FROM_QUEEN) out.push(ref);
    else if (ref !== NONE) out.push(...droneMothers({ stock } as Pedigree, ref));
  }
  return out;
}
