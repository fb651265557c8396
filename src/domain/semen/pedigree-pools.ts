import type { Assumption } from '#domain/pedigree/assumption.ts';
import type { PoolFact, SourceFact } from '#domain/pedigree/facts.ts';
import { addDays, type Day } from '#units/calendar-day.ts';
import type { Catches } from './contents.ts';
import type { SingleSource } from './drone-source.ts';
import { type CarriedPool, carriedPool, EGG_TO_QUEEN_DAYS, sharedPool } from './gamete-pools.ts';
import type { LedgerStory } from './ledger-story.ts';
import { type MatingFacts, type MatingSeason, OPEN_MATING_DRONES } from './mating-facts.ts';
import type { PoolSource } from './pool-sources.ts';
import { sayPoolAssumption } from './say-pool-assumption.ts';

/** What the pedigree needs to know besides: what queens and batches are called, and who belongs to a line. */
export type PoolContext = {
  story: LedgerStory;
  catches: Catches;
  queenName: (queen: string) => string;
  batchName: (batch: string) => string;
  /**
   * The queens of a line who may have given the drones a queen was mated with (`carrier`; null: whoever met a batch); empty
   * when none is in the book. Daughters she raised since cannot be among them.
   */
  membersOfLine: (line: string, carrier: string | null) => readonly string[];
};

/** Facts for the pedigree: pools, the pool each queen carries, the earlier pool a daughter descends from where it differs. */
export type PedigreePools = {
  pools: PoolFact[];
  /** Pool of each mated queen, by queen. Not in it: nothing is written about her mating. */
  carried: Map<string, string>;
  /** Daughters whose dam carries another pool now than when their egg was laid. */
  from: Map<string, string>;
  assumptions: Assumption[];
};

/** A daughter as far as her drone side goes. */
export type DaughterFact = { id: string; dam: string | null; emerged: Day | null };

type Draft = PedigreePools & { context: PoolContext; entered: Set<string> };

/**
 * Every queen's pool as pedigree facts (genetics.md §1.5): a shared batch or single drone is one pool whoever carries it; one
 * mother "or" another is a pool of alternatives, not a mixture; a line is one of its members, nobody knows which; the drones of a mating place
 * are one pool, of which each queen mated there drew some at random.
 * @param facts the matings of every queen of whom any are written, each queen once
 * @param daughters every queen with a dam: those whose egg was laid before their dam's last mating descend from an earlier pool
 */
export function pedigreePools(
  facts: readonly MatingFacts[],
  daughters: readonly DaughterFact[],
  context: PoolContext,
): PedigreePools {
  const draft: Draft = { pools: [], carried: new Map(), from: new Map(), assumptions: [], context, entered: new Set() };
  for (const one of facts) {
    const pool = carriedPool(one, context);
    if (pool !== null) draft.carried.set(one.queen, enterPool(draft, `pool:${one.queen}`, pool));
  }
  const byQueen = new Map(facts.map((one) => [one.queen, one]));
  for (const daughter of daughters) {
    const dam = daughter.dam === null ? undefined : byQueen.get(daughter.dam);
    if (dam !== undefined && daughter.emerged !== null)
      enterEarlier(draft, dam, { ...daughter, emerged: daughter.emerged });
  }
  const { pools, carried, from, assumptions } = draft;
  return { pools, carried, from, assumptions };
}

/** The days anything was put into a queen, of what counts by its day. */
const matingDays = (facts: MatingFacts): Day[] =>
  [
    ...facts.inseminations.filter((one) => one.done && !one.leftNothing).map((one) => one.day),
    ...facts.naturalMatings.map((flight) => flight.from ?? flight.to),
    ...facts.sellersWords.map((word) => word.day),
  ].filter((day) => day !== null);

function enterEarlier(draft: Draft, dam: MatingFacts, daughter: { id: string; emerged: Day }): void {
  const laid = addDays(daughter.emerged, -EGG_TO_QUEEN_DAYS);
  const later = matingDays(dam).filter((day) => day > laid);
  const first = later.reduce<Day | null>(
    (earliest, day) => (earliest === null || day < earliest ? day : earliest),
    null,
  );
  if (first === null) return;
  const id = `pool:${dam.queen}:before:${first}`;
  const pool = carriedPool(dam, draft.context, laid);
  draft.from.set(
    daughter.id,
    pool === null ? enterUnknown(draft, id, dam.queen) : enterPool(draft, id, pool, ` before ${first}`),
  );
}

/** True the first time an id is met. */
function isNew(draft: Draft, id: string): boolean {
  if (draft.entered.has(id)) return false;
  draft.entered.add(id);
  return true;
}

function enterUnknown(draft: Draft, id: string, queen: string): string {
  if (!isNew(draft, id)) return id;
  const name = `semen of ${draft.context.queenName(queen)}, not written`;
  draft.pools.push({ id, name, sources: [{ open: true, share: 1, drones: OPEN_MATING_DRONES }] });
  draft.assumptions.push({ code: 'open-mated', queen: draft.context.queenName(queen), drones: OPEN_MATING_DRONES });
  return id;
}

/** Enters a pool and gives the id it goes by: the batch's own, when all of it is one whole batch. */
function enterPool(draft: Draft, id: string, pool: CarriedPool, when = ''): string {
  const [only, ...others] = pool.sources;
  const isWholeBatch = only?.kind === 'batch' && only.draws === null && others.length === 0;
  if (!isNew(draft, `${id} as carried`)) return isWholeBatch ? only.batch : id;
  const called = draft.context.queenName(pool.queen);
  for (const assumption of pool.assumptions) {
    draft.assumptions.push({ code: 'taken-for-granted', about: called, text: sayPoolAssumption(assumption) });
  }
  if (isWholeBatch) return enterBatch(draft, only.batch);
  draft.pools.push(poolFact(draft, { id, name: `semen of ${called}${when}`, carrier: pool.queen }, pool.sources));
  return id;
}

function enterBatch(draft: Draft, batch: string): string {
  if (!isNew(draft, batch)) return batch;
  const shared = sharedPool(batch, draft.context);
  const name = `batch ${draft.context.batchName(batch)}`;
  const sources = shared?.sources ?? [];
  draft.pools.push(poolFact(draft, { id: batch, name, carrier: null }, sources));
  return batch;
}

/**
 * All the drones that fly at a mating place in a season, as one pool: so many that no drone is met twice, and every mother as likely as the other
 * (a group with all its sisters). Each queen draws her few from it, so that they are at random.
 */
function enterSeason(draft: Draft, { id: season, place, year, sources }: MatingSeason): string {
  const id = `place:${season}`;
  if (!isNew(draft, id)) return id;
  const name = `drones at ${place}, ${year}`;
  const amount = (queens: number) => ({ share: queens, drones: Number.POSITIVE_INFINITY, carrier: null });
  draft.pools.push({ id, name, sources: sources.flatMap(({ of, queens }) => singles(draft, of, amount(queens))) });
  draft.assumptions.push({ code: 'met-at-random', pool: name });
  return id;
}

type Named = { id: string; name: string; carrier: string | null };

/** A pool of sources; a pool that is nothing but "one or the other" is one of alternatives itself. */
function poolFact(draft: Draft, named: Named, sources: readonly PoolSource[]): PoolFact {
  const { id, name, carrier } = named;
  const [only, ...others] = sources;
  if (only?.kind === 'drones' && others.length === 0) {
    const options = alternativesOf(draft, only, carrier);
    if (options.length > 1) return { id, name, sources: options, oneOf: true };
  }
  return { id, name, sources: sources.map((source, i) => sourceFact(draft, source, { ...named, part: i + 1 })) };
}

function sourceFact(draft: Draft, source: PoolSource, owner: Named & { part: number }): SourceFact {
  if (source.kind === 'batch') {
    return { pool: enterBatch(draft, source.batch), share: source.share, draws: source.draws };
  }
  if (source.kind === 'place') {
    return { pool: enterSeason(draft, source.season), share: source.share, draws: source.draws };
  }
  const options = alternativesOf(draft, source, owner.carrier);
  const [only, ...others] = options;
  if (only !== undefined && others.length === 0) return { ...only, share: source.share };
  const id = `${owner.id}:part:${owner.part}`;
  draft.pools.push({ id, name: `${owner.name}, part ${owner.part}`, sources: options, oneOf: true });
  return { pool: id, share: source.share, draws: null };
}

type DroneSourceOf = Extract<PoolSource, { kind: 'drones' }>;

/** What a source may be, with probabilities as shares: one entry when it is certain. */
function alternativesOf(draft: Draft, source: DroneSourceOf, carrier: string | null): SourceFact[] {
  const { of, drones } = source;
  if (of.kind !== 'either') return singles(draft, of, { share: 1, drones, carrier });
  return of.options.flatMap((option) => singles(draft, option.of, { share: option.weight, drones, carrier }));
}

type Amount = { share: number; drones: number; carrier: string | null };

function singles(draft: Draft, of: SingleSource, { carrier, ...amount }: Amount): SourceFact[] {
  switch (of.kind) {
    case 'mother':
      return [{ queen: of.queen, ...amount }];
    case 'sister-group':
      return [{ queen: of.group, ...amount }];
    case 'open':
      return [{ open: true, ...amount }];
    case 'line': {
      const members = draft.context.membersOfLine(of.line, carrier);
      if (members.length === 0) return [{ open: true, ...amount }];
      return members.map((queen) => ({ queen, drones: amount.drones, share: amount.share / members.length }));
    }
  }
}
