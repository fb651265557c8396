import { catchShares, type DroneSource, STRANGERS, sourceKey } from './drone-source.ts';
import {
  DRONES_WHEN_NOT_SAID,
  type MatingSeason,
  type NaturalMatingFact,
  OPEN_MATING_DRONES,
  type StatedSources,
} from './mating-facts.ts';

/**
 * Where sperm of a pool comes from (genetics.md §1.5): drones of a mother, group, line or open population, n effective ones;
 * a batch other queens share, the whole of it (`draws` null) or so many effective draws; or so many drones met at random at a mating place.
 * Shares of a pool add up to 1.
 */
export type PoolSource =
  | { kind: 'drones'; of: DroneSource; share: number; drones: number }
  | { kind: 'batch'; batch: string; share: number; draws: number | null }
  | { kind: 'place'; season: MatingSeason; share: number; draws: number };

function keyOf(source: PoolSource): string {
  if (source.kind === 'drones') return sourceKey(source.of);
  if (source.kind === 'place') return `place ${source.season.id}`;
  return `batch ${source.batch} ${source.draws === null ? 'whole' : 'draws'}`;
}

/** Effective number of two lots of different drones of one source: share²/n adds up. */
const together = (a: { share: number; n: number }, b: { share: number; n: number }): number =>
  (a.share + b.share) ** 2 / (a.share ** 2 / a.n + b.share ** 2 / b.n);

function joined(a: PoolSource, b: PoolSource): PoolSource {
  const share = a.share + b.share;
  if (a.kind === 'drones' && b.kind === 'drones') {
    return { ...a, share, drones: together({ share: a.share, n: a.drones }, { share: b.share, n: b.drones }) };
  }
  if (a.kind === 'place' && b.kind === 'place') {
    return { ...a, share, draws: together({ share: a.share, n: a.draws }, { share: b.share, n: b.draws }) };
  }
  if (a.kind === 'batch' && b.kind === 'batch' && a.draws !== null && b.draws !== null) {
    return { ...a, share, draws: together({ share: a.share, n: a.draws }, { share: b.share, n: b.draws }) };
  }
  return { ...a, share };
}

/** A part of a mixture: its weight (any unit) and its sources, whose shares add up to 1. */
export type PoolPart = { weight: number; sources: readonly PoolSource[] };

/**
 * Parts mixed by their weights. Drones of one mother from two parts are different drones and one source; a whole batch met
 * twice stays one batch. Shares of the result add up to 1; parts without weight are left out.
 */
export function mixedParts(parts: readonly PoolPart[]): PoolSource[] {
  const sum = parts.reduce((total, part) => total + part.weight, 0);
  const byKey = new Map<string, PoolSource>();
  for (const { weight, sources } of parts) {
    if (weight <= 0) continue;
    for (const source of sources) {
      const scaled = { ...source, share: (source.share * weight) / sum };
      const known = byKey.get(keyOf(source));
      byKey.set(keyOf(source), known === undefined ? scaled : joined(known, scaled));
    }
  }
  return [...byKey.values()];
}

/** Drone mothers as stated, as sources: mother j gives drones × share_j (contracts.md). Nobody named: strangers. */
export function statedSources(stated: StatedSources): { sources: PoolSource[]; drones: number; isSaid: boolean } {
  const isOpen = stated.sources.length === 0;
  const drones = stated.drones ?? (isOpen ? OPEN_MATING_DRONES : DRONES_WHEN_NOT_SAID);
  const shares = isOpen
    ? [{ of: STRANGERS, share: 1 }]
    : catchShares({ id: '', mothers: stated.sources, strangers: 0 });
  const sources = shares.map(({ of, share }) => ({ kind: 'drones' as const, of, share, drones: drones * share }));
  return { sources, drones, isSaid: stated.drones !== null };
}

/**
 * What a mating flight brings: drones met at random where it is written who stood at the place, else strangers; a free flight has about a dozen
 * either way. Nobody sees to it there that every mother has her share, as a bench does ({@link statedSources}).
 */
export function flownSources({ season, drones }: NaturalMatingFact): {
  sources: PoolSource[];
  drones: number;
  isSaid: boolean;
} {
  if (season === null || season.sources.length === 0) return statedSources({ sources: [], drones });
  const draws = drones ?? OPEN_MATING_DRONES;
  return { sources: [{ kind: 'place', season, share: 1, draws }], drones: draws, isSaid: drones !== null };
}
