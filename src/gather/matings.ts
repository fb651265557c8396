import type { DroneSource, SingleSource } from '#domain/semen/drone-source.ts';
import type {
  InseminationFact,
  MatingFacts,
  MatingSeason,
  NaturalMatingFact,
  SellersWord,
  StatedSources,
} from '#domain/semen/mating-facts.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import { groupBy } from '#units/group-by.ts';
import { dayOfMoment } from '#units/moment.ts';
import type { RecordId } from '#units/record-id.ts';
import { gatherIdentity, identityReads, type WhoWas } from './identity.ts';

export const matingReads = [
  ...identityReads,
  'insemination',
  'insemination_source',
  'ledger_line',
  'natural_mating',
  'mating_season',
  'mating_season_source',
  'mating_place',
  'sister_group',
  'pool_word',
] as const satisfies readonly KindName[];

type SourceRow = Pick<Row<'insemination_source'>, 'queen' | 'sister_group' | 'line' | 'share' | 'alternative'>;

function singleOf({ queen, sister_group, line }: SourceRow): SingleSource {
  if (queen !== null) return { kind: 'mother', queen };
  if (sister_group !== null) return { kind: 'sister-group', group: sister_group };
  return line === null ? { kind: 'open' } : { kind: 'line', line };
}

/** Rows of stated sources: those marked as alternatives are together one source that is one of them. */
function statedOf(rows: readonly SourceRow[], drones: number | null): StatedSources {
  const alternatives = rows.filter(({ alternative }) => alternative === 1);
  const parts = rows.filter(({ alternative }) => alternative !== 1);
  const sources = parts.map((row): StatedSources['sources'][number] => ({ of: singleOf(row), share: row.share }));
  if (alternatives.length === 0) return { sources, drones };
  const options = alternatives.map((row) => ({ of: singleOf(row), weight: row.share ?? 1 / alternatives.length }));
  const either: DroneSource = { kind: 'either', options };
  return { sources: [...sources, { of: either, share: null }], drones };
}

type Written = {
  inseminations: Row<'insemination'>[];
  sources: ReadonlyMap<RecordId, Row<'insemination_source'>[]>;
  doses: ReadonlyMap<RecordId, Row<'ledger_line'>[]>;
  whoWas: WhoWas;
};

/** The day of an insemination: as written, or that of its moment. */
export const dayOfInsemination = ({ day, moment }: Pick<Row<'insemination'>, 'day' | 'moment'>) =>
  day ?? (moment === null ? null : dayOfMoment(moment));

function inseminationFact(row: Row<'insemination'>, { sources, doses, whoWas }: Written): InseminationFact {
  const day = dayOfInsemination(row);
  const draws = (doses.get(row.id) ?? []).map(({ id }) => id);
  const stated = sources.get(row.id) ?? [];
  return {
    id: row.id,
    queen: whoWas(row.queen, day),
    day,
    done: row.done === 1,
    draws,
    stated: draws.length > 0 || stated.length === 0 ? null : statedOf(stated, row.drones),
    semen: row.given_ul,
    leftNothing: row.left_nothing === 1,
  };
}

const flight = (row: Row<'natural_mating'>, seasons: ReadonlyMap<RecordId, MatingSeason>): NaturalMatingFact => ({
  queen: row.queen,
  from: row.flew_from,
  to: row.flew_to,
  suspected: row.suspected === 1,
  share: row.share,
  drones: row.drones,
  season: row.season === null ? null : (seasons.get(row.season) ?? null),
});

/** Every season of every mating place, with who stood there; a group of sisters counts with all of them. */
async function matingSeasons(facts: Facts): Promise<Map<RecordId, MatingSeason>> {
  const places = new Map((await facts.find('mating_place')).map(({ id, name }) => [id, name]));
  const sisters = new Map((await facts.find('sister_group')).map(({ id, size }) => [id, Math.max(1, size)]));
  const sources = groupBy(await facts.find('mating_season_source'), ({ season }) => season);
  const standing = ({ queen, sister_group }: Row<'mating_season_source'>): MatingSeason['sources'] => {
    if (queen !== null) return [{ of: { kind: 'mother', queen }, queens: 1 }];
    if (sister_group === null) return [];
    return [{ of: { kind: 'sister-group', group: sister_group }, queens: sisters.get(sister_group) ?? 1 }];
  };
  const season = ({ id, place, year }: Row<'mating_season'>): MatingSeason => ({
    id,
    place: places.get(place) ?? '',
    year,
    sources: (sources.get(id) ?? []).flatMap(standing),
  });
  return new Map((await facts.find('mating_season')).map((row) => [row.id, season(row)]));
}

/** One seller's word on a queen may be several rows, one a source. */
function word(queen: RecordId, rows: readonly Row<'pool_word'>[]): SellersWord {
  const sources = rows.map((row): SourceRow => ({ ...row, queen: row.mother }));
  const said = rows.find(({ drones }) => drones !== null)?.drones ?? null;
  const named = sources.filter(({ queen: mother, sister_group, line }) => mother ?? sister_group ?? line);
  return { queen, day: rows[0]?.said_on ?? null, ...statedOf(named, said) };
}

/** All that is written about the matings of every queen who has any, each record with the queen it really is about. */
export async function gatherMatings(facts: Facts): Promise<MatingFacts[]> {
  const lines = await facts.find('ledger_line', { step: 'dose' });
  const written: Written = {
    inseminations: await facts.find('insemination'),
    sources: groupBy(await facts.find('insemination_source'), ({ insemination }) => insemination),
    doses: groupBy(
      lines.filter(({ insemination }) => insemination !== null),
      ({ insemination }) => insemination as RecordId,
    ),
    whoWas: await gatherIdentity(facts),
  };
  const inseminations = written.inseminations.map((row) => inseminationFact(row, written));
  const seasons = await matingSeasons(facts);
  const flights = (await facts.find('natural_mating')).map((row) => flight(row, seasons));
  const words = [...groupBy(await facts.find('pool_word'), ({ queen }) => queen)].map(([queen, rows]) =>
    word(queen, rows),
  );
  const byQueen = new Map<string, MatingFacts>();
  const of = (queen: string) =>
    byQueen.get(queen) ?? { queen, inseminations: [], naturalMatings: [], sellersWords: [] };
  for (const each of inseminations)
    byQueen.set(each.queen, { ...of(each.queen), inseminations: [...of(each.queen).inseminations, each] });
  for (const each of flights)
    byQueen.set(each.queen, { ...of(each.queen), naturalMatings: [...of(each.queen).naturalMatings, each] });
  for (const each of words) byQueen.set(each.queen, { ...of(each.queen), sellersWords: [each] });
  return [...byQueen.values()];
}
