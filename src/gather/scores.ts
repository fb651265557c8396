import { onDay } from '#domain/living/day-span.ts';
import { layingRecord } from '#domain/living/laying-record.ts';
import type { Hers, Reign } from '#domain/living/whose-result.ts';
import { belongingOf } from '#domain/scoring/belonging.ts';
import type { OwnedReading } from '#domain/scoring/season-records.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import { addDays, type Day } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { gatherIdentity, identityReads } from './identity.ts';
import { type GatheredLiving, gatherLiving, livingReads } from './living.ts';
import { dayOfInsemination } from './matings.ts';

export const scoreReads = [
  ...livingReads,
  ...identityReads,
  'score',
  'visit',
  'colony_place',
  'insemination',
] as const satisfies readonly KindName[];

/** A reading with whose it is, from which day that queen's readings count, and how it was read. */
export type GatheredReading = OwnedReading & {
  row: Row<'score'>;
  hers: Hers;
  countsFrom: Day | null;
  visit: Row<'visit'> | null;
};

/** Days after an insemination between which laying begins where nobody looked: most act by day 14 (common practice). */
const LAYS_FROM = 2;
const LAYS_BY = 14;

/** The days queens were first inseminated, the earliest of each. */
async function firstInseminations(facts: Facts): Promise<Map<string, Day>> {
  const first = new Map<string, Day>();
  for (const row of await facts.find('insemination', { done: 1 })) {
    const day = dayOfInsemination(row);
    if (day !== null && (first.get(row.queen) ?? '9999') > day) first.set(row.queen, day);
  }
  return first;
}

/** Every queen's time at the head of a colony with when her laying there began, by colony. */
export async function gatherReigns(facts: Facts, living: GatheredLiving): Promise<Map<string, Reign[]>> {
  const inseminated = await firstInseminations(facts);
  const began = new Map<string, Reign['laying']>();
  const layingOf = (queen: string): Reign['laying'] => {
    const known = began.get(queen);
    if (known !== undefined) return known;
    const since = inseminated.get(queen) ?? null;
    const seen = layingRecord({ checks: living.of(queen).checks, since, isLost: false }).began;
    const usual = since === null ? null : { earliest: addDays(since, LAYS_FROM), latest: addDays(since, LAYS_BY) };
    const laying = since === null && seen !== null ? onDay(seen.earliest) : (seen ?? usual);
    began.set(queen, laying);
    return laying;
  };
  const heads = living.stays.filter(({ role, colony }) => role === 'heads' && colony !== null);
  const reigns = heads.map((stay): Reign => ({ stay, laying: layingOf(stay.queen) }));
  return groupBy(reigns, ({ stay }) => stay.colony as string);
}

/** Where a colony stood on a day: the place whose span holds it; else the only one it ever had. */
function yardOn(places: readonly Row<'colony_place'>[], on: Day): RecordId | null {
  const there = places.filter(
    ({ stood_from, stood_to }) => (stood_from === null || stood_from <= on) && (stood_to === null || stood_to >= on),
  );
  return there.at(-1)?.yard ?? (places.length === 1 ? (places[0]?.yard ?? null) : null);
}

/** Every reading of every colony, in order of entry, with whose it is. */
export async function gatherScores(facts: Facts, known?: GatheredLiving): Promise<GatheredReading[]> {
  const living = known ?? (await gatherLiving(facts));
  const whoWas = await gatherIdentity(facts);
  const reigns = await gatherReigns(facts, living);
  const places = groupBy(await facts.find('colony_place'), ({ colony }) => colony);
  const visits = new Map((await facts.find('visit')).map((row) => [row.id, row]));
  return (await facts.find('score')).map((row): GatheredReading => {
    const written = {
      from: row.span_from,
      day: row.day,
      queen: row.queen === null ? null : whoWas(row.queen, row.day),
      judged: row.judged_hers,
    };
    const of = belongingOf(written, row.colony === null ? [] : (reigns.get(row.colony) ?? []));
    return {
      id: row.id,
      trait: row.trait,
      value: row.value,
      notJudged: row.not_judged,
      method: row.method,
      from: row.span_from,
      day: row.day,
      yard: row.yard ?? (row.colony === null ? null : yardOn(places.get(row.colony) ?? [], row.day)),
      queen: of.queen,
      isHers: of.hers === 'wholly',
      why: of.why,
      row,
      hers: of.hers,
      countsFrom: of.countsFrom,
      visit: row.visit === null ? null : (visits.get(row.visit) ?? null),
    };
  });
}
