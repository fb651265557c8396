import { z } from 'zod';
import { broodInbreeding, daughtersRelationship } from '#domain/pedigree/kinship.ts';
import type { Pedigree } from '#domain/pedigree/laid-pedigree.ts';
import { type GatheredPedigree, gatherPedigree, pedigreeReads } from '#gather/pedigree.ts';
import { readOnce } from '#gather/read-once.ts';
import type { Facts, Where } from '#ports/store.ts';
import { idShape } from '#records/field.ts';
import type { KindName, Row } from '#records/kinds.ts';
import type { RecordId } from '#units/record-id.ts';
import { type Question, question } from '../mechanism/question.ts';

const input = z.strictObject({
  season: idShape,
  /** What would stand there; `null`: the season is taken back, its flights stay as open matings. */
  sources: z.array(z.strictObject({ queen: idShape.optional(), sister_group: idShape.optional() })).nullable(),
});
type Input = z.infer<typeof input>;

/** A figure as it is and as it would be; `null`: nothing is written about her mating, or no pedigree can be laid. */
export type BeforeAfter = { now: number | null; would: number | null };

/** What kinship says of a queen mated at a place, and what it would say. */
export type FlownOutlook = {
  queen: string;
  name: string;
  /** Inbreeding of her brood, 0-1. */
  brood: BeforeAfter;
  /** Relationship of two of her daughters, on average, 0-1. */
  sisters: BeforeAfter;
  /** Her daughters in the book: their descent changes with it. */
  daughters: number;
};

/** What would follow from other drone mothers at a season. `loops`: a queen would descend from herself; that is not kept. */
export type SeasonOutlook = { flown: FlownOutlook[]; loops: boolean };

/** The facts as they would be with other drone mothers at a season; with none, whoever flew there met strangers. */
const asIf = (facts: Facts, { season, sources }: Input): Facts => ({
  get: (kind, id) => facts.get(kind, id),
  count: (kind, where) => facts.count(kind, where),
  turn: () => facts.turn(),
  // What is kept knows nothing of the season put in.
  lasting: (_name, _kinds, make) => make(null),
  async find<N extends KindName>(kind: N, where?: Where<N>): Promise<Row<N>[]> {
    const rows = await facts.find(kind, where);
    if (kind !== 'mating_season_source') return rows;
    const others = (rows as Row<'mating_season_source'>[]).filter((row) => row.season !== season);
    const stood = (sources ?? []).map(
      ({ queen = null, sister_group = null }, i): Row<'mating_season_source'> => ({
        id: `${season}:${i}` as RecordId,
        season,
        queen,
        sister_group,
      }),
    );
    return [...others, ...stood] as Row<N>[];
  },
});

type Gathered = {
  now: GatheredPedigree;
  would: GatheredPedigree;
  flights: Row<'natural_mating'>[];
  queens: Row<'queen'>[];
};

type Figures = Pick<FlownOutlook, 'brood' | 'sisters'>;
const figureOf = (pedigree: Pedigree | null, queen: string, figure: (p: Pedigree, queen: string) => number | null) =>
  pedigree === null || pedigree.stock.names.queenIndex(queen) < 0 ? null : figure(pedigree, queen);

function figuresOf(now: Pedigree | null, would: Pedigree | null, queen: string): Figures {
  const both = (figure: (p: Pedigree, queen: string) => number | null): BeforeAfter => ({
    now: figureOf(now, queen, figure),
    would: figureOf(would, queen, figure),
  });
  return { brood: both(broodInbreeding), sisters: both(daughtersRelationship) };
}

/** What kinship says of the queens mated at a place in a season, and what it would say if other drone mothers had stood there, or the season were gone. */
export const matingSeasonOutlook: Question<Input, Gathered, SeasonOutlook> = question({
  name: 'mating-season-outlook',
  what: 'What kinship would say of the queens mated at a place if other drone mothers had stood there, beside what it says.',
  input,
  reads: [...pedigreeReads, 'natural_mating', 'queen'],
  async gather(given, facts) {
    const once = readOnce(facts);
    const flights = await once.find('natural_mating', { season: given.season });
    return {
      now: await gatherPedigree(once),
      would: await gatherPedigree(asIf(once, given)),
      flights,
      queens: await once.find('queen'),
    };
  },
  answer({ now, would, flights, queens }): SeasonOutlook {
    const [before, after] = [now.lay().pedigree, would.lay().pedigree];
    const flown = [...new Set(flights.map(({ queen }) => queen))];
    return {
      flown: flown.map((queen) => ({
        queen,
        name: now.nameOf(queen),
        ...figuresOf(before, after, queen),
        daughters: queens.filter(({ dam }) => dam === queen).length,
      })),
      loops: before !== null && after === null,
    };
  },
});
