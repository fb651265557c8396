/**
 * Kinship by dropping founder alleles through explicit drones: every replicate draws paternity, eggs and drones anew, and two genes are
 * alike when they carry the same founder allele. Slow and obvious; shares nothing with the code it checks but the facts.
 */
import type { PedigreeFacts, PoolFact, QueenFact, SourceFact } from '#domain/pedigree/facts.ts';
import type { RandomStream } from '#numeric/random/random-stream.ts';

/** Alleles with the weight they have in their node: two of 1 for a queen, drones by share for a pool, sisters by 1/J for a group. */
export type Gene = { allele: number; weight: number };
type Sister = [number, number];
type Drone = { allele: number; share: number };

/** One replicate: queens and pools dropped as they are asked for. */
export class Replicate {
  readonly #queens: ReadonlyMap<string, QueenFact>;
  readonly #pools: ReadonlyMap<string, PoolFact>;
  readonly #random: RandomStream;
  readonly #sisters = new Map<string, Sister[]>();
  readonly #drones = new Map<string, Drone[]>();
  #next = 0;

  constructor(facts: PedigreeFacts, random: RandomStream) {
    this.#queens = new Map(facts.queens.map((queen) => [queen.id, queen]));
    this.#pools = new Map(facts.pools.map((pool) => [pool.id, pool]));
    this.#random = random;
  }

  sisters(id: string): Sister[] {
    const known = this.#sisters.get(id);
    if (known) return known;
    const queen = this.#queens.get(id) as QueenFact;
    const count = queen.sisters ?? 1;
    const unknownDam: Sister = [this.#next++, this.#next++];
    const openPool = this.#open(12, 1);
    const made = Array.from({ length: count }, (): Sister => {
      if (queen.dam) return [this.#gamete(this.sisters(queen.dam)), this.#draw(this.#poolOfDam(queen))];
      return count > 1 ? [this.#gamete([unknownDam]), this.#draw(openPool)] : [this.#next++, this.#next++];
    });
    this.#sisters.set(id, made);
    return made;
  }

  #poolOfDam(queen: QueenFact): Drone[] {
    return this.carried(queen.dam as string);
  }

  /** Drones in the pool a queen carries. */
  carried(queen: string): Drone[] {
    return this.drones(this.#queens.get(queen)?.pool ?? `open ${queen}`);
  }

  drones(id: string): Drone[] {
    const known = this.#drones.get(id);
    if (known) return known;
    const pool = this.#pools.get(id);
    const made = pool ? this.#mixed(pool) : this.#open(12, 1);
    this.#drones.set(id, made);
    return made;
  }

  #mixed(pool: PoolFact): Drone[] {
    if (!pool.oneOf) return pool.sources.flatMap((source) => this.#fromSource(source, source.share));
    const at = this.#random.uniform();
    const before = (k: number) => pool.sources.slice(0, k + 1).reduce((sum, source) => sum + source.share, 0);
    const chosen = pool.sources.find((_, k) => at < before(k)) ?? (pool.sources[0] as SourceFact);
    return this.#fromSource(chosen, 1);
  }

  #fromSource(source: SourceFact, share: number): Drone[] {
    if ('open' in source) return this.#open(source.drones, share);
    if ('queen' in source) return this.#laid(this.sisters(source.queen), source.drones, share);
    const from = this.drones(source.pool);
    if (source.draws === null) return from.map((drone) => ({ allele: drone.allele, share: share * drone.share }));
    return Array.from({ length: source.draws }, () => ({
      allele: this.#draw(from),
      share: share / (source.draws ?? 1),
    }));
  }

  /** Drones spread evenly over the sisters, who are taken in random order; without end, every sister's two genes alike. */
  #laid(sisters: Sister[], drones: number, share: number): Drone[] {
    if (drones === Number.POSITIVE_INFINITY)
      return sisters.flatMap((genes) => genes.map((allele) => ({ allele, share: share / 2 / sisters.length })));
    const order = sisters.map((sister) => ({ sister, key: this.#random.uniform() })).sort((a, b) => a.key - b.key);
    return Array.from({ length: drones }, (_, k) => {
      const mother = (order[k % order.length] as { sister: Sister }).sister;
      return { allele: this.#gamete([mother]), share: share / drones };
    });
  }

  #open(drones: number, share: number): Drone[] {
    return Array.from({ length: drones }, () => ({ allele: this.#next++, share: share / drones }));
  }

  #gamete(sisters: Sister[]): number {
    const sister = sisters[this.#random.below(sisters.length)] as Sister;
    return sister[this.#random.below(2)] as number;
  }

  #draw(pool: Drone[]): number {
    let left = this.#random.uniform();
    for (const drone of pool) {
      left -= drone.share;
      if (left < 0) return drone.allele;
    }
    return (pool.at(-1) as Drone).allele;
  }
}

const genesOf = (sisters: Sister[]): Gene[] =>
  sisters.flatMap(([egg, sperm]) => [egg, sperm].map((allele) => ({ allele, weight: 1 / sisters.length })));

/** Additive relationship within one replicate: half the weighted number of like pairs (both genes of a queen count 1). */
function alike(a: Gene[], b: Gene[]): number {
  let sum = 0;
  for (const x of a) for (const y of b) if (x.allele === y.allele) sum += x.weight * y.weight;
  return sum / 2;
}

/** Running mean and variance of one quantity. */
export type Tally = { mean: number; squares: number; n: number };
const tally = (): Tally => ({ mean: 0, squares: 0, n: 0 });
function add(t: Tally, value: number): void {
  const d = value - t.mean;
  t.mean += d / ++t.n;
  t.squares += d * (value - t.mean);
}

/** Sums of shares in another order differ by so much at most; replicates that differ no more gave the same. */
const ROUNDING = 1e-12;

/** z of an expected value against a tally; `null` when every replicate gave the same (then the value must be that one). */
export function zOf(t: Tally, expected: number): number | null {
  if (t.squares <= t.n * ROUNDING ** 2) return Math.abs(t.mean - expected) < 1e-9 ? null : Number.POSITIVE_INFINITY;
  return (t.mean - expected) / Math.sqrt(t.squares / (t.n - 1) / t.n);
}

export type Dropped = { relationship: Map<string, Tally>; inbreeding: Map<string, Tally>; brood: Map<string, Tally> };

/** Tallies over `replicates`: relationship of every pair (`a b`), inbreeding of every queen, brood inbreeding of every mated queen. */
export function dropGenes(facts: PedigreeFacts, replicates: number, random: RandomStream): Dropped {
  const dropped: Dropped = { relationship: new Map(), inbreeding: new Map(), brood: new Map() };
  const at = (map: Map<string, Tally>, key: string): Tally => {
    const known = map.get(key) ?? tally();
    map.set(key, known);
    return known;
  };
  for (let r = 0; r < replicates; r++) {
    const replicate = new Replicate(facts, random);
    const genes = facts.queens.map((queen) => genesOf(replicate.sisters(queen.id)));
    for (const [i, a] of facts.queens.entries()) {
      const [egg, sperm] = replicate.sisters(a.id)[0] as Sister;
      add(at(dropped.inbreeding, a.id), egg === sperm ? 1 : 0);
      if (a.pool) add(at(dropped.brood, a.id), broodAlike(genes[i] as Gene[], replicate.carried(a.id)));
      for (let j = 0; j < i; j++) {
        const b = facts.queens[j] as QueenFact;
        add(at(dropped.relationship, `${a.id} ${b.id}`), alike(genes[i] as Gene[], genes[j] as Gene[]));
      }
    }
  }
  return dropped;
}

const broodAlike = (genes: Gene[], drones: Drone[]): number =>
  alike(
    genes,
    drones.map((drone) => ({ allele: drone.allele, weight: drone.share })),
  );
