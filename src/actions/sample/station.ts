import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { recordColony } from '../stock/record-colony.ts';
import { recordLine, recordPerson, recordYard } from '../stock/record-plain.ts';
import type { Doing } from './doing.ts';

/** The invented station: who works there, its yards and lines, and hives to put queens in. */
export type Station = {
  people: { orla: RecordId; tomas: RecordId };
  lines: { alder: RecordId; sallow: RecordId };
  /** A full colony in the next place of a yard. */
  hive(yard: 'home' | 'mill' | 'hedge', since: Day): Promise<RecordId>;
  /** A nuc in the nuc yard. */
  nuc(since: Day): Promise<RecordId>;
};

/** Thornmere: a station that does not exist, with people, yards and lines that do not exist. */
export async function plantStation(doing: Doing): Promise<Station> {
  const first = doing.day(-1_500);
  const zone = /\[(.+)\]/.exec(doing.at(first, '10:00'))?.[1] ?? 'UTC';
  const yard = (name: string, walking_order: number, distance_km: number) =>
    doing.make(recordYard, { name, zone, walking_order, distance_km }, first);
  const yards = {
    home: await yard('Thornmere home yard', 1, 0),
    mill: await yard('Mill bank', 2, 3.5),
    hedge: await yard('Long hedge', 3, 6),
  };
  const people = {
    orla: await doing.make(recordPerson, { name: 'Orla Venn' }, first),
    tomas: await doing.make(recordPerson, { name: 'Tomas Quill' }, first),
  };
  const lines = {
    alder: await doing.make(
      recordLine,
      { name: 'Alder', rule: 'Gentle on the comb; kept since the first two queens' },
      first,
    ),
    sallow: await doing.make(recordLine, { name: 'Sallow', rule: 'Early in spring; drones are raised from it' }, first),
  };
  const counts = { home: 0, mill: 0, hedge: 0, nuc: 0 };
  const hive: Station['hive'] = (at, since) => {
    const letter = { home: 'H', mill: 'M', hedge: 'L' }[at];
    counts[at]++;
    const colony = { code: `${letter}${counts[at]}`, form: 'full', since } as const;
    return doing.make(recordColony, { colony, yard: yards[at], spot: counts[at] }, since);
  };
  const nuc = (since: Day) => {
    counts.nuc++;
    const colony = { code: `N${counts.nuc}`, form: 'nuc', since } as const;
    return doing.make(recordColony, { colony, yard: yards.home, spot: 20 + counts.nuc }, since);
  };
  return { people, lines, hive, nuc };
}
