import type { PedigreeFacts } from '#domain/pedigree/facts.ts';
import { type LeftOut, type SeasonRecord, seasonRecords } from '#domain/scoring/season-records.ts';
import type { WorthRecord } from '#domain/worth/choices.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName } from '#records/kinds.ts';
import { yearOf } from '#units/calendar-day.ts';
import type { LaidOnce } from './laid-once.ts';
import type { GatheredLiving } from './living.ts';
import { gatherPedigree, type NameOf, pedigreeReads } from './pedigree.ts';
import { gatherScores, scoreReads } from './scores.ts';

export const worthReads = [
  ...pedigreeReads,
  ...scoreReads,
  'yard',
  'line',
  'person',
  'insemination',
] as const satisfies readonly KindName[];

/** Everything worth is worked out from, the readings behind it, and how queens are called. */
export type GatheredWorth = {
  pedigree: PedigreeFacts;
  /** The kinship of that descent. */
  lay: LaidOnce['lay'];
  nameOf: NameOf;
  years: Record<string, number>;
  lines: Record<string, string>;
  records: readonly SeasonRecord[];
  leftOut: readonly LeftOut[];
  /** Who took a reading, by its id; nobody where no name is written. */
  readBy: ReadonlyMap<string, string>;
  /** Queens that were inseminated. */
  inseminated: ReadonlySet<string>;
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

/** The month a test year begins in, and what is known of lives where that was read already. */
type Asked = { month?: number | undefined; living?: GatheredLiving };

/** Reads descent, seasons and years. A queen is counted to the year she emerged; of those only a year is known of, that year. */
export async function gatherWorth(facts: Facts, { month = 1, living }: Asked = {}): Promise<GatheredWorth> {
  const { facts: pedigree, lay, nameOf } = await gatherPedigree(facts);
  const readings = await gatherScores(facts, living);
  const { records, leftOut } = seasonRecords(readings, { month });
  const people = new Map((await facts.find('person')).map(({ id, name }) => [id as string, name]));
  const readBy = new Map(
    readings.flatMap(({ id, row, visit }) => {
      const name = people.get(row.person ?? visit?.person ?? '');
      return name === undefined ? [] : [[id, name] as const];
    }),
  );
  const inseminated = new Set((await facts.find('insemination', { done: 1 })).map(({ queen }) => queen as string));
  const names = new Map((await facts.find('line')).map(({ id, name }) => [id, name]));
  const years: Record<string, number> = {};
  const lines: Record<string, string> = {};
  for (const { id, emerged, year, line } of await facts.find('queen')) {
    const born = emerged === null ? year : yearOf(emerged);
    if (born !== null) years[id] = born;
    const called = line === null ? undefined : names.get(line);
    if (called !== undefined) lines[id] = called;
  }
  const yardName = await yardNames(facts);
  return { pedigree, lay, nameOf, years, lines, records, leftOut, readBy, inseminated, yardName };
}

/** Who took most readings of a season; of equals the first by name. */
function testerOf({ traits }: SeasonRecord, readBy: GatheredWorth['readBy']): string | undefined {
  const counts = new Map<string, number>();
  for (const { readings } of traits.values())
    for (const { id } of readings) {
      const name = readBy.get(id);
      if (name !== undefined) counts.set(name, (counts.get(name) ?? 0) + 1);
    }
  return [...counts].sort(([a, n], [b, m]) => m - n || (a < b ? -1 : 1))[0]?.[0];
}

/** Season records as plain data, in each trait's own unit. */
export const worthRecords = ({ records, yardName, readBy, inseminated }: GatheredWorth): WorthRecord[] =>
  records.map((record) => {
    const tester = testerOf(record, readBy);
    return {
      id: recordName(record),
      queen: record.queen,
      year: record.year,
      yard: { id: record.yard, name: yardName(record.yard) },
      traits: Object.fromEntries([...record.traits].map(([trait, { value }]) => [trait, value])),
      ...(tester === undefined ? {} : { tester }),
      isInseminated: inseminated.has(record.queen),
    };
  });
