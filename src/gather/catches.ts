import type { Stay } from '#domain/living/stay.ts';
import { motherOfCatch } from '#domain/semen/catch-mother.ts';
import type { DroneCatch, DroneSource, SingleSource } from '#domain/semen/drone-source.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { gatherIdentity, identityReads, type WhoWas } from './identity.ts';
import { gatherStays, stayReads } from './stays.ts';

export const catchReads = [
  ...identityReads,
  ...stayReads,
  'drone_catch',
  'drone_catch_source',
  'drone_comb',
  'guess',
] as const satisfies readonly KindName[];

/** Ages of drones taken for collection where none is written: 12 to 28 days (usable span, Cobey, Tarpy and Woyke 2013). */
const USUAL_AGES = { from: 12, to: 28 };

/** A catch whose mother is to be asked: the drones' eggs were laid while the colony changed queens, or nobody knows. */
export type CatchQuestion = { catch: RecordId; colony: RecordId; candidates: readonly string[] };

type Context = {
  whoWas: WhoWas;
  stays: readonly Stay[];
  combs: ReadonlyMap<RecordId, Row<'drone_comb'>>;
  guesses: ReadonlyMap<RecordId, Row<'guess'>[]>;
  asked: CatchQuestion[];
};

const mother = (queen: string): SingleSource => ({ kind: 'mother', queen });

/** "R-07 or R-09, rather R-07" as it is written about a record, or nothing. */
function guessedMother(context: Context, about: RecordId): DroneSource | null {
  const readings = (context.guesses.get(about) ?? []).filter(({ field }) => field === 'mother');
  if (readings.length === 0) return null;
  const options = readings.map(({ value, weight }) => ({ of: mother(value), weight: weight ?? 1 / readings.length }));
  return { kind: 'either', options };
}

/** Whose drones came out of a colony on a day: who laid there when they were eggs. */
function laidIn(colony: RecordId, from: Row<'drone_catch'>, context: Context): DroneSource {
  const ages = { ageFrom: from.age_from ?? USUAL_AGES.from, ageTo: from.age_to ?? USUAL_AGES.to };
  const found = motherOfCatch({ colony, caught: from.day, ...ages }, context.stays);
  if (found.answer === 'known') return mother(found.queen);
  const candidates = found.answer === 'ask' ? found.candidates : [];
  context.asked.push({ catch: from.id, colony, candidates });
  if (candidates.length === 0) return { kind: 'open' };
  const options = candidates.map((queen) => ({ of: mother(queen), weight: 1 / candidates.length }));
  return { kind: 'either', options };
}

function sourceOf(row: Row<'drone_catch_source'>, from: Row<'drone_catch'>, context: Context): DroneSource {
  const guessed = guessedMother(context, row.id);
  if (guessed !== null) return guessed;
  if (row.mother !== null) return mother(context.whoWas(row.mother, from.day));
  if (row.sister_group !== null) return { kind: 'sister-group', group: row.sister_group };
  const comb = row.comb === null ? undefined : context.combs.get(row.comb);
  if (comb !== undefined) {
    const guessedComb = guessedMother(context, comb.id);
    if (guessedComb !== null) return guessedComb;
    if (comb.mother !== null) return mother(context.whoWas(comb.mother, comb.laid_from ?? comb.in_on));
  }
  return row.colony === null ? { kind: 'open' } : laidIn(row.colony, from, context);
}

/** Every catch with the drone mothers it holds, and those about which the breeder has to be asked. */
export async function gatherCatches(facts: Facts): Promise<{
  catches: Map<string, DroneCatch>;
  asked: CatchQuestion[];
  /** Whose drones each told-apart part of a catch is. */
  parts: Map<string, DroneSource>;
  /** The day of each catch. */
  days: Map<string, Day>;
}> {
  const context: Context = {
    whoWas: await gatherIdentity(facts),
    stays: await gatherStays(facts),
    combs: new Map((await facts.find('drone_comb')).map((comb) => [comb.id, comb])),
    guesses: groupBy(await facts.find('guess', { field: 'mother' }), ({ about }) => about),
    asked: [],
  };
  const sources = groupBy(await facts.find('drone_catch_source'), (row) => row.catch);
  const catches = new Map<string, DroneCatch>();
  const parts = new Map<string, DroneSource>();
  const days = new Map<string, Day>();
  for (const from of await facts.find('drone_catch')) {
    const rows = sources.get(from.id) ?? [];
    const mothers = rows.map((row) => {
      const of = sourceOf(row, from, context);
      parts.set(row.id, of);
      return { of, share: row.share };
    });
    days.set(from.id, from.day);
    catches.set(from.id, { id: from.id, mothers, strangers: from.stranger_share ?? 0 });
  }
  return { catches, asked: context.asked, parts, days };
}
