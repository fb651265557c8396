import type { LayingCheck } from '#domain/living/check.ts';
import type { Fate, LivingFacts } from '#domain/living/living-state.ts';
import type { Stay } from '#domain/living/stay.ts';
import { coverOf } from '#domain/living/stay.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { gatherIdentity, identityReads, type WhoWas } from './identity.ts';
import { dayOfInsemination } from './matings.ts';
import { gatherStays, stayReads } from './stays.ts';

export const livingReads = [
  ...identityReads,
  ...stayReads,
  'queen',
  'laying_check',
  'laying_sight',
  'fate',
  'not_watched',
  'insemination',
  'graft_range',
  'graft',
  'colony_place',
] as const satisfies readonly KindName[];

/** What the looks, fates and handlings of each queen say, as facts of `domain/living`. */
export type GatheredLiving = {
  of(queen: string): LivingFacts;
  queens: readonly Row<'queen'>[];
  stays: readonly Stay[];
  staysOf(queen: string): readonly Stay[];
};

type Looked = { queen: string; check: LayingCheck };

/** A look at a colony is a look at the queen who headed it that day. */
function looksOf(
  checks: readonly Row<'laying_check'>[],
  sights: ReadonlyMap<RecordId, Row<'laying_sight'>[]>,
  { stays, whoWas }: { stays: readonly Stay[]; whoWas: WhoWas },
): Looked[] {
  const headsOf = groupBy(
    stays.filter(({ role }) => role === 'heads'),
    ({ colony }) => colony,
  );
  return checks.flatMap(({ id, queen, colony, day, queen_seen }) => {
    const heads = headsOf.get(colony)?.find((stay) => coverOf(stay, day, day) !== 'none');
    const of = queen === null ? heads?.queen : whoWas(queen, day);
    const saw = (sights.get(id) ?? []).map((sight) => sight.saw);
    return of === undefined ? [] : [{ queen: of, check: { day, sights: saw, queenSeen: queen_seen } }];
  });
}

const fateOf = (row: Row<'fate'>): Fate => {
  const earliest = row.happened_on ?? row.happened_latest;
  const latest = row.happened_latest ?? row.happened_on;
  return { kind: row.kind, on: earliest === null || latest === null ? null : { earliest, latest } };
};

/** Days each queen was at hand: inseminated, grafted from. */
async function handledDays(facts: Facts, whoWas: WhoWas): Promise<Map<string, Day[]>> {
  const days: { queen: string; day: Day }[] = [];
  for (const row of await facts.find('insemination')) {
    const day = dayOfInsemination(row);
    if (day !== null) days.push({ queen: whoWas(row.queen, day), day });
  }
  const graftDay = new Map((await facts.find('graft')).map(({ id, day }) => [id, day]));
  for (const { graft, dam } of await facts.find('graft_range')) {
    const day = graftDay.get(graft);
    if (day !== undefined) days.push({ queen: whoWas(dam, day), day });
  }
  return new Map([...groupBy(days, ({ queen }) => queen)].map(([queen, all]) => [queen, all.map(({ day }) => day)]));
}

type Watched = { colonies: ReadonlySet<string>; yards: ReadonlySet<string> };

/** Spans in which nobody looked at any colony or yard a queen was in; a span without place counts for all. */
function notWatchedFor(spans: readonly Row<'not_watched'>[], { colonies, yards }: Watched): LivingFacts['notWatched'] {
  return spans
    .filter(
      ({ yard, colony }) =>
        (yard === null && colony === null) ||
        (colony !== null && colonies.has(colony)) ||
        (yard !== null && yards.has(yard)),
    )
    .map(({ span_from, span_to }) => ({ from: span_from, to: span_to }));
}

/** Reads everything that says whether queens live and lay. */
export async function gatherLiving(facts: Facts): Promise<GatheredLiving> {
  const whoWas = await gatherIdentity(facts);
  const stays = await gatherStays(facts);
  const queens = await facts.find('queen');
  const sights = groupBy(await facts.find('laying_sight'), (row) => row.laying_check);
  const looks = groupBy(looksOf(await facts.find('laying_check'), sights, { stays, whoWas }), ({ queen }) => queen);
  const fates = groupBy(await facts.find('fate'), ({ queen, happened_on }) => whoWas(queen, happened_on) as string);
  const spans = await facts.find('not_watched');
  const yardsOf = groupBy(await facts.find('colony_place'), ({ colony }) => colony as string);
  const handled = await handledDays(facts, whoWas);
  const byQueen = new Map<string, Row<'queen'>>(queens.map((queen) => [queen.id, queen]));
  const staysByQueen = groupBy(stays, ({ queen }) => queen);
  const staysOf = (queen: string) => staysByQueen.get(queen) ?? [];
  const placesOf = (queen: string): Watched => {
    const colonies = new Set(staysOf(queen).flatMap(({ colony }) => (colony === null ? [] : [colony])));
    const yards = new Set([...colonies].flatMap((colony) => (yardsOf.get(colony) ?? []).map(({ yard }) => yard)));
    return { colonies, yards };
  };
  return {
    queens,
    stays,
    staysOf,
    of: (queen) => ({
      emerged: byQueen.get(queen)?.emerged ?? null,
      checks: (looks.get(queen) ?? []).map(({ check }) => check),
      fates: (fates.get(queen) ?? []).map(fateOf),
      handled: handled.get(queen) ?? [],
      notWatched: notWatchedFor(spans, placesOf(queen)),
    }),
  };
}
