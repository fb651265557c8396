import type { PedigreeFacts, PoolFact, SourceFact } from '../pedigree/facts.ts';

/** Drones of one origin in what a queen carries; shares add up to 1 (within a batch: of the batch). `drones` null: more than are ever met twice. */
export type DronePart =
  | { from: 'mother'; queen: string; name: string; sisters: number; share: number; drones: number | null }
  | { from: 'batch'; name: string; share: number; parts: DronePart[] }
  | { from: 'open'; share: number; drones: number };

/** The drones behind a queen's daughters, as a group: several brothers, never one father. `oneOf`: one part or another, shares = how likely. */
export type DroneSide = { oneOf: boolean; parts: DronePart[] };

/** Facts looked up by id, made once for many questions. */
export type PedigreeIndex = {
  queens: ReadonlyMap<string, PedigreeFacts['queens'][number]>;
  pools: ReadonlyMap<string, PoolFact>;
};

/** Looks up queens and pools by id. */
export const indexPedigree = (facts: PedigreeFacts): PedigreeIndex => ({
  queens: new Map(facts.queens.map((queen) => [queen.id, queen])),
  pools: new Map(facts.pools.map((pool) => [pool.id, pool])),
});

function partOf(source: SourceFact, whole: number, index: PedigreeIndex): DronePart {
  const share = source.share / whole;
  if ('open' in source) return { from: 'open', share, drones: source.drones };
  if ('queen' in source) {
    const mother = index.queens.get(source.queen);
    const name = mother?.code ?? source.queen;
    const drones = Number.isFinite(source.drones) ? source.drones : null;
    return { from: 'mother', queen: source.queen, name, sisters: mother?.sisters ?? 1, share, drones };
  }
  const batch = index.pools.get(source.pool);
  const parts = batch === undefined ? [] : partsOf(batch, index);
  return { from: 'batch', name: batch?.name ?? source.pool, share, parts };
}

function partsOf(pool: PoolFact, index: PedigreeIndex): DronePart[] {
  const whole = pool.sources.reduce((sum, { share }) => sum + share, 0);
  return pool.sources.map((source) => partOf(source, whole, index)).sort((a, b) => b.share - a.share);
}

/** The drone side of a pool, the largest part first; `null` for no pool: nothing is written. */
export function droneSideOf(pool: string | null | undefined, index: PedigreeIndex): DroneSide | null {
  const found = pool == null ? undefined : index.pools.get(pool);
  return found === undefined ? null : { oneOf: found.oneOf ?? false, parts: partsOf(found, index) };
}

/** The pool a queen descends from: her dam's at the time her egg was laid. */
export function poolBehind(queen: string, index: PedigreeIndex): string | null {
  const her = index.queens.get(queen);
  if (her === undefined) return null;
  const dam = her.dam == null ? undefined : index.queens.get(her.dam);
  return her.fromPool ?? dam?.pool ?? null;
}

/** Every drone mother in a drone side, batches opened, each once with her whole share, the largest first. */
export function mothersIn({ parts }: DroneSide): { queen: string; name: string; sisters: number; share: number }[] {
  const found = new Map<string, { queen: string; name: string; sisters: number; share: number }>();
  const walk = (some: readonly DronePart[], weight: number): void => {
    for (const part of some) {
      if (part.from === 'batch') walk(part.parts, weight * part.share);
      if (part.from !== 'mother') continue;
      const before = found.get(part.queen)?.share ?? 0;
      const { queen, name, sisters } = part;
      found.set(queen, { queen, name, sisters, share: before + weight * part.share });
    }
  };
  walk(parts, 1);
  return [...found.values()].sort((a, b) => b.share - a.share);
}
