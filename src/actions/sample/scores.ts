import { allSteps } from '#domain/scoring/trait.ts';
import type { Day } from '#units/calendar-day.ts';
import { addDays } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { readTest } from '../yard/read-test.ts';
import { recordVisit } from '../yard/record-visit.ts';
import { scoreColony } from '../yard/score-colony.ts';
import type { Doing } from './doing.ts';
import type { LastSeason } from './last-season.ts';
import type { OlderQueens } from './older-queens.ts';
import type { Station } from './station.ts';

/** A colony on test, and how it differs from the usual one: a share each from her line, her sisters and herself. */
type Tested = { queen: RecordId; colony: RecordId; gentle: number; busy: number };

/** The visits of one yard in one season, by days before the sample is planted. */
type Season = { colonies: readonly Tested[]; visits: readonly number[]; harvest: number; person: RecordId };

const step = (value: number): number =>
  allSteps.reduce((near, each) => (Math.abs(each - value) < Math.abs(near - value) ? each : near));

/** A number about a middle, the same for everybody who plants the sample. */
const about = (doing: Doing, middle: number, spread: number): number => middle + spread * (2 * doing.share() - 1);

async function yardOf(doing: Doing, colony: RecordId): Promise<RecordId> {
  const [place] = await doing.book.find('colony_place', { colony });
  if (place === undefined) throw new Error('the sample does not fit: a colony without a yard');
  return place.yard;
}

/** The colony each queen heads, the newest; queens that are gone are left out. */
async function tested(doing: Doing, queens: readonly RecordId[], busy: number): Promise<Tested[]> {
  const out: Tested[] = [];
  for (const queen of queens) {
    const [fate] = await doing.book.find('fate', { queen });
    const stay = (await doing.book.find('stay', { queen, role: 'heads' })).at(-1);
    if (fate !== undefined || stay == null || stay.colony === null) continue;
    out.push({ queen, colony: stay.colony, gentle: about(doing, 0, 0.7), busy: busy + about(doing, 0, 6) });
  }
  return out;
}

/** One visit: all colonies of a yard on one day by one person, behaviour by its three scales. */
async function visitAll(doing: Doing, { colonies, person }: Season, on: Day): Promise<void> {
  const byYard = new Map<RecordId, Tested[]>();
  for (const each of colonies) {
    const yard = await yardOf(doing, each.colony);
    byYard.set(yard, [...(byYard.get(yard) ?? []), each]);
  }
  for (const [yard, there] of byYard) {
    const conditions = { weather: 'sunny', flow: doing.share() < 0.7 ? 'some' : 'none', temperature_c: 22 } as const;
    const visit = await doing.make(recordVisit, { yard, day: on, person, ...conditions }, on);
    for (const { colony, gentle, busy } of there) {
      const readings = [
        { trait: 'gentleness', value: step(about(doing, 3 + gentle, 0.6)) },
        { trait: 'calmness', value: step(about(doing, 3 + 0.7 * gentle, 0.6)) },
        { trait: 'swarming', value: step(Math.min(4, about(doing, 3.6 - busy / 12, 0.5))) },
      ];
      await doing.do(scoreColony, { colony, day: on, person, visit, readings }, on, '11:00');
    }
  }
}

/** What a colony was counted and weighed for in one season: a brood test, a mite wash, honey. */
async function measure(doing: Doing, { colony, busy, gentle }: Tested, { harvest, person }: Season): Promise<void> {
  const [begun, read, weighed] = [doing.day(harvest - 12), doing.day(harvest - 11), doing.day(harvest)];
  const among = 50;
  await doing.do(
    scoreColony,
    { colony, day: begun, person, readings: [{ trait: 'hygiene', method: 'pin', among, empty_before: 2 }] },
    begun,
  );
  const open = (await doing.book.find('score', { colony, trait: 'hygiene', value: null })).at(-1);
  const emptied = Math.round(Math.min(among, Math.max(4, about(doing, 28 + 8 * gentle, 14))));
  if (open !== undefined) await doing.do(readTest, { score: open.id, counted: emptied + 2, day: read }, read);
  const mites = { trait: 'mites', method: 'wash', counted: Math.round(about(doing, 5, 4.5)), among: 300 } as const;
  const honey = Math.max(2, Math.round(10 * about(doing, 26 + busy, 5)) / 10);
  const kilograms = { trait: 'honey', method: 'weighed', value: honey, span_from: addDays(weighed, -20) } as const;
  await doing.do(scoreColony, { colony, day: weighed, person, readings: [mites, kilograms] }, weighed, '16:00');
}

/** A performance test of two seasons in three yards: enough to work worth out, and to see how little thirty colonies say. */
export async function plantScores(
  doing: Doing,
  { people }: Station,
  older: OlderQueens,
  last: LastSeason,
): Promise<void> {
  const first = [...(await tested(doing, older.alder, 3)), ...(await tested(doing, older.sallow, -3))];
  const laying = last.laying.map(({ queen }) => queen);
  const [alder, sallow] = [laying.slice(0, Math.ceil(laying.length / 2)), laying.slice(Math.ceil(laying.length / 2))];
  const second = [...(await tested(doing, alder, 2)), ...(await tested(doing, sallow, -1))];
  const seasons: Season[] = [
    { colonies: first, visits: [-430, -410, -390, -370], harvest: -372, person: people.orla },
    { colonies: [...first, ...second], visits: [-58, -44, -30, -12], harvest: -14, person: people.tomas },
  ];
  for (const season of seasons) {
    for (const visit of season.visits) await visitAll(doing, season, doing.day(visit));
    for (const colony of season.colonies) await measure(doing, colony, season);
  }
}
