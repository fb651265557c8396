import { yearMark } from '#domain/marking/year-colour.ts';
import { addDays, type Day, yearOf } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { recordFate } from '../stock/record-fate.ts';
import { recordQueen } from '../stock/record-queen.ts';
import { checkLaying } from '../yard/check-laying.ts';
import type { Doing } from './doing.ts';
import type { Station } from './station.ts';

/** The queens a station has before the season that is told in full. */
export type OlderQueens = { alder: readonly RecordId[]; sallow: readonly RecordId[] };

const codeOf = (on: Day, n: number) => `${String(yearOf(on)).slice(2)}-${String(n).padStart(3, '0')}`;

/** Four founders: two bought a line; what they were inseminated with is the seller's word. */
async function founders(doing: Doing, { lines, hive }: Station): Promise<{ alder: RecordId[]; sallow: RecordId[] }> {
  const emerged = doing.day(-1_480);
  const came = doing.day(-1_400);
  const make = async (code: string, line: RecordId) =>
    doing.make(
      recordQueen,
      {
        queen: { code, emerged, emerged_about: 10, line, origin: 'bought', came_on: came },
        carries: { how: 'seller', parts: [{ line }], drones: 10, said_by: 'the breeder she came from' },
        stands: { colony: await hive('hedge', came), since: came },
      },
      came,
    );
  const made = {
    alder: [await make('Alder 1', lines.alder), await make('Alder 2', lines.alder)],
    sallow: [await make('Sallow 1', lines.sallow), await make('Sallow 2', lines.sallow)],
  };
  for (const [queen, kind, ago] of [
    [made.alder[0], 'superseded', -700],
    [made.sallow[0], 'died', -640],
    [made.sallow[1], 'lost', -610],
  ] as const)
    if (queen !== undefined) await doing.do(recordFate, { queen, kind, happened_on: doing.day(ago) }, doing.day(ago));
  return made;
}

/** Ten daughters of the founders, inseminated two seasons ago; their old book says with whose drones, not from which tube. */
export async function plantOlderQueens(doing: Doing, station: Station): Promise<OlderQueens> {
  const { alder, sallow } = await founders(doing, station);
  const emerged = doing.day(-736);
  const done = doing.day(-728);
  const daughters: { alder: RecordId[]; sallow: RecordId[] } = { alder: [], sallow: [] };
  for (let n = 1; n <= 10; n++) {
    const isAlder = n <= 5;
    const [dams, fathers] = isAlder ? [alder, sallow] : [sallow, alder];
    const colony = await station.hive(n % 2 === 0 ? 'mill' : 'hedge', done);
    const id = await doing.make(
      recordQueen,
      {
        queen: {
          code: codeOf(emerged, n),
          emerged,
          dam: dams[n % 2],
          line: isAlder ? station.lines.alder : station.lines.sallow,
          origin: 'bred',
        },
        mark: { colour: yearMark(yearOf(emerged)).colour, disc: n },
        carries: {
          how: 'inseminated',
          parts: [
            { queen: fathers[0], share: 0.6 },
            { queen: fathers[1], share: 0.4 },
          ],
          drones: 10,
          on: done,
          given_ul: 8,
        },
        stands: { colony, since: done },
      } as never,
      done,
    );
    daughters[isAlder ? 'alder' : 'sallow'].push(id);
    for (const [after, sights] of [
      [24, ['worker-caps']],
      [32, ['own-workers', 'worker-caps']],
    ] as const)
      await doing.do(
        checkLaying,
        { queen: id, colony, sights: [...sights], queen_seen: 'seen' },
        addDays(done, after),
        '14:00',
      );
  }
  for (const [queen, kind, ago] of [
    [daughters.alder[4], 'superseded', -420],
    [daughters.sallow[3], 'lost', -480],
  ] as const)
    if (queen !== undefined) await doing.do(recordFate, { queen, kind, happened_on: doing.day(ago) }, doing.day(ago));
  return daughters;
}
