import { addDays, type Day } from '#units/calendar-day.ts';
import { type Catches, mothersOf } from './contents.ts';
import { type DroneSums, effectiveOf, summed } from './drone-sums.ts';
import { drawnBy } from './ledger.ts';
import type { Drawn, LedgerStory } from './ledger-story.ts';
import type { InseminationFact, MatingFacts, NaturalMatingFact } from './mating-facts.ts';
import { type Batch, dronesBehind, originOf } from './origins.ts';
import { flownSources, mixedParts, type PoolPart, type PoolSource, statedSources } from './pool-sources.ts';

/** What was taken for granted where the records do not say what a queen carries. `values` fill its sentence. */
export type PoolAssumption = {
  code:
    | 'doses-mixed-by-semen'
    | 'dose-not-read'
    | 'dose-overdrawn'
    | 'drones-guessed-from-count'
    | 'drones-not-said'
    | 'mixing-assumed'
    | 'natural-mating-suspected'
    | 'natural-mating-share-not-said'
    | 'sellers-word';
  values: Readonly<Record<string, string | number>>;
};

/** The gamete pool of one queen, and everything it rests on. */
export type CarriedPool = {
  queen: string;
  sources: readonly PoolSource[];
  /** True when layers blur or anything was assumed. */
  about: boolean;
  assumptions: readonly PoolAssumption[];
};

/** A batch (or single drone) shared by queens, as sources. */
export type SharedPool = { id: string; sources: readonly PoolSource[]; about: boolean };

type Book = { story: LedgerStory; catches: Catches };
type Part = PoolPart & { isDose: boolean; about: boolean; assumptions: readonly PoolAssumption[] };

/** Drones as pool sources, mother by mother; shares add up to 1. */
export const sourcesOfDrones = (drones: readonly DroneSums[], catches: Catches): PoolSource[] =>
  mothersOf(drones, catches).map((part) => ({
    kind: 'drones',
    of: part.of,
    share: part.share,
    drones: part.effective,
  }));

/** Draws from a poorly mixed batch: as many effective drones as the dose has of its semen, 1 to all of them. */
function drawsFrom(batch: Batch, semen: number): number {
  const whole = batch.of.reduce((sum, one) => ({ semen: sum.semen + one.semen, squares: sum.squares + one.squares }), {
    semen: 0,
    squares: 0,
  });
  const all = effectiveOf(whole);
  return Math.min(Math.max(1, (all * semen) / batch.semen), Math.max(1, all));
}

/** The sources of what one line drew: batches and single drones are shared with whoever else got of them. */
export function sourcesOfDrawn(drawn: Drawn, book: Book): PoolSource[] {
  const { origins } = book.story;
  const parts = drawn.pieces.map((piece): PoolPart => {
    const origin = originOf(origins, piece.origin);
    if (origin.kind === 'batch') {
      const draws = origin.assumed === 'homogenised' ? null : drawsFrom(origin, piece.semen);
      return { weight: piece.semen, sources: [{ kind: 'batch', batch: origin.id, share: 1, draws }] };
    }
    const isOneDrone = origin.kind === 'drone' && drawn.pieces.length === 1;
    if (isOneDrone) {
      return { weight: piece.semen, sources: [{ kind: 'batch', batch: piece.origin, share: 1, draws: null }] };
    }
    return { weight: piece.semen, sources: sourcesOfDrones(dronesBehind(piece, origins), book.catches) };
  });
  return mixedParts(parts);
}

function assumptionsOfDraw(drawn: Drawn, book: Book): PoolAssumption[] {
  const drones = summed(drawn.pieces.flatMap((piece) => dronesBehind(piece, book.story.origins)));
  const said: PoolAssumption[] = [];
  if (drawn.assumed !== null) {
    said.push({ code: 'mixing-assumed', values: { tube: drawn.tube, mixing: drawn.mixing, taken: drawn.assumed } });
  }
  if (drawn.missing > 0) said.push({ code: 'dose-overdrawn', values: { tube: drawn.tube, by: drawn.missing } });
  if (drones.some((one) => one.guessed)) said.push({ code: 'drones-guessed-from-count', values: { tube: drawn.tube } });
  return said;
}

function partOfDose(fact: InseminationFact, book: Book): Part | null {
  const draws = fact.draws.flatMap((line) => drawnBy(book.story, line) ?? []);
  if (draws.length > 0) {
    const semen = draws.reduce((sum, drawn) => sum + drawn.semen, 0);
    const sources = mixedParts(draws.map((drawn) => ({ weight: drawn.semen, sources: sourcesOfDrawn(drawn, book) })));
    const assumptions = draws.flatMap((drawn) => assumptionsOfDraw(drawn, book));
    return { weight: semen, sources, isDose: true, about: draws.some((drawn) => drawn.about), assumptions };
  }
  if (fact.stated === null) return null;
  const { sources, drones, isSaid } = statedSources(fact.stated);
  const assumptions: PoolAssumption[] = isSaid ? [] : [{ code: 'drones-not-said', values: { drones } }];
  return { weight: fact.semen ?? Number.NaN, sources, isDose: true, about: false, assumptions };
}

/** Doses whose µl of semen nobody read weigh like the mean of those that were read (alone: like each other). */
function withWeights(parts: readonly Part[]): Part[] {
  const known = parts.filter((part) => !Number.isNaN(part.weight)).map((part) => part.weight);
  const mean = known.length > 0 ? known.reduce((sum, weight) => sum + weight, 0) / known.length : 1;
  const assumed: PoolAssumption = { code: 'dose-not-read', values: { semen: mean } };
  return parts.map((part) => {
    if (!Number.isNaN(part.weight)) return part;
    return { ...part, weight: mean, assumptions: parts.length > 1 ? [...part.assumptions, assumed] : part.assumptions };
  });
}

function partOfFlight(fact: NaturalMatingFact, otherwise: number): Part {
  const { sources, drones, isSaid } = flownSources(fact);
  const assumptions: PoolAssumption[] = isSaid ? [] : [{ code: 'drones-not-said', values: { drones } }];
  const weight = fact.share ?? otherwise;
  if (fact.suspected) assumptions.push({ code: 'natural-mating-suspected', values: { share: weight } });
  if (fact.share === null && otherwise < 1) {
    assumptions.push({ code: 'natural-mating-share-not-said', values: { share: weight } });
  }
  return { weight, sources, isDose: false, about: fact.suspected, assumptions };
}

const happenedBy = (when: Day | null, asOf: Day | null): boolean => when === null || asOf === null || when <= asOf;

/** Doses and a seller's word, mixed by µl of semen, flights beside them with the share the breeder gives them. */
function partsOf(facts: MatingFacts, book: Book, asOf: Day | null): Part[] {
  const done = facts.inseminations.filter((one) => one.done && !one.leftNothing && happenedBy(one.day, asOf));
  const words = facts.sellersWords.filter((word) => happenedBy(word.day, asOf)).map(partOfWord);
  const doses = withWeights([...done.flatMap((one) => partOfDose(one, book) ?? []), ...words]);
  const flights = facts.naturalMatings.filter((flight) => happenedBy(flight.from ?? flight.to, asOf));
  const otherwise = doses.length === 0 ? 1 : 0.5;
  const flown = flights.map((flight) => partOfFlight(flight, otherwise));
  const flownShare = Math.min(
    1,
    flown.reduce((sum, part) => sum + part.weight, 0),
  );
  const semen = doses.reduce((sum, part) => sum + part.weight, 0);
  const scale = semen > 0 ? (1 - flownShare) / semen : 0;
  return [...doses.map((part) => ({ ...part, weight: part.weight * scale })), ...flown];
}

function partOfWord(word: MatingFacts['sellersWords'][number]): Part {
  const { sources, drones, isSaid } = statedSources(word);
  const assumptions: PoolAssumption[] = [{ code: 'sellers-word', values: {} }];
  if (!isSaid) assumptions.push({ code: 'drones-not-said', values: { drones } });
  return { weight: Number.NaN, sources, isDose: true, about: true, assumptions };
}

/**
 * What a queen carries, from her inseminations, suspected flights and a seller's word; null when nothing is written about
 * her mating (a pedigree then takes her as open mated and says so).
 *
 * Several doses are mixed by µl of semen in each and called guessed (the second adds less than the first), unless the
 * breeder says one left nothing. One homogenised batch, or one drone, met by several queens is the same pool for all.
 * @param asOf the day that is asked about; null = all that is known. What has no day always counts
 */
export function carriedPool(facts: MatingFacts, book: Book, asOf: Day | null = null): CarriedPool | null {
  const parts = partsOf(facts, book, asOf).filter((part) => part.weight > 0);
  if (parts.length === 0) return null;
  const doses = parts.filter((part) => part.isDose);
  const mixed: PoolAssumption[] =
    doses.length > 1 ? [{ code: 'doses-mixed-by-semen', values: { doses: doses.length } }] : [];
  const assumptions = [...mixed, ...parts.flatMap((part) => part.assumptions)];
  const about = mixed.length > 0 || parts.some((part) => part.about);
  return { queen: facts.queen, sources: mixedParts(parts), about, assumptions };
}

/** Days from the egg to the emerging queen: 16 (15-17; Winston 1987, The Biology of the Honey Bee). */
export const EGG_TO_QUEEN_DAYS = 16;

/**
 * The drone side of a daughter: what her dam carried when the egg was laid, 16 days before the daughter emerged, not today.
 * With no day of emergence: all that is known of her dam.
 */
export const droneSideOfDaughter = (dam: MatingFacts, book: Book, emerged: Day | null): CarriedPool | null =>
  carriedPool(dam, book, emerged === null ? null : addDays(emerged, -EGG_TO_QUEEN_DAYS));

/** A batch or single drone that pools point to, with its own sources; null when the id is neither. */
export function sharedPool(id: string, book: Book): SharedPool | null {
  const origin = originOf(book.story.origins, id);
  if (origin.kind === 'unknown' || origin.kind === 'stretch') return null;
  if (origin.kind === 'batch') {
    return { id, sources: sourcesOfDrones(origin.of, book.catches), about: origin.mixing !== 'homogenised' };
  }
  return { id, sources: sourcesOfDrones([origin.sums], book.catches), about: false };
}
