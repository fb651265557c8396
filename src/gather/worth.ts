import type { PedigreeFacts } from '#domain/pedigree/facts.ts';
import { type LeftOut, type SeasonRecord, seasonRecords } from '#domain/scoring/season-records.ts';
import type { WorthRecord } from '#domain/worth/choices.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName } from '#records/kinds.ts';
import { yearOf } from '#units/calendar-day.ts';
import { gatherPedigree, type NameOf, pedigreeReads } from './pedigree.ts';
import { gatherScores, scoreReads } from './scores.ts';

export const worthReads = [...pedigreeReads, ...scoreReads, 'yard', 'line'] as const satisfies readonly KindName[];

/** Everything worth is worked out from, the readings behind it, and how queens are called. */
export type GatheredWorth = {
  pedigree: PedigreeFacts;
  nameOf: NameOf;
  years: Record<string, number>;
  lines: Record<string, string>;
  records: readonly SeasonRecord[];
  leftOut: readonly LeftOut[];
  yardName: (yard: string) => string;
};

/** The name of a record: a queen and her test year. */
export const recordName = ({ queen, year }: Pick<SeasonRecord, 'queen' | 'year'>): string => `${queen} ${year}`;

/** Yards by name; two of the same name are told apart. */
async function yardNames(facts: Facts): Promise<(yard: string) => string> {
  const yards = await facts.find('yard');
  const names = new Map<string, string>();
  for (const { id, name } of yards) {
    const twice = yards.filter((yard) => yard.name === name).length > 1;
    names.set(id, twice ? `${name} (${id.slice(-4)})` : name);
  }
  return (yard) => names.get(yard) ?? yard;
}

/** Reads descent, seasons and years. A queen is counted to the year she emerged; of those only a year is known of, that year. */
export async function gatherWorth(facts: Facts, { month = 1 }: { month?: number } = {}): Promise<GatheredWorth> {
  const { facts: pedigree, nameOf } = await gatherPedigree(facts);
  const { records, leftOut } = seasonRecords(await gatherScores(facts), { month });
  const names = new Map((await facts.find('line')).map(({ id, name }) => [id, name]));
  const years: Record<string, number> = {};
  const lines: Record<string, string> = {};
  for (const { id, emerged, year, line } of await facts.find('queen')) {
    const born = emerged === null ? year : yearOf(emerged);
    if (born !== null) years[id] = born;
    const called = line === null ? undefined : names.get(line);
    if (called !== undefined) lines[id] = called;
  }
  return { pedigree, nameOf, years, lines, records, leftOut, yardName: await yardNames(facts) };
}

/** Season records as plain data, in each trait's own unit. */
export const worthRecords = ({ records, yardName }: GatheredWorth): WorthRecord[] =>
  records.map((record) => ({
    id: recordName(record),
    queen: record.queen,
    year: record.year,
    yard: { id: record.yard, name: yardName(record.yard) },
    traits: Object.fromEntries([...record.traits].map(([trait, { value }]) => [trait, value])),
  }));
