import type { Running } from '../../support/running-server.ts';
import { benchStock, DAY, daysFromNow } from './bench-stock.ts';
import { does } from './journey.ts';

/** Words a page must show as words: a picture whose failing would run a program. */
export const SPIKED = '<img src=x onerror=window.spiked=1>';

/** Ids of records that fill the `$` places of addresses, by the place of the page and the name in the address. */
export type Addressed = Record<string, string>;

/**
 * A station in the middle of its bench day (invented), with one record of every kind a page shows, and the spiked words
 * wherever a person may type: codes, names, notes, purposes.
 * @returns for `/stock/queen/$id` the key is the whole pattern
 */
export async function hostileBook(server: Running): Promise<Addressed> {
  const stock = await benchStock(server);
  const make = async (name: string, input: unknown, more: object = {}) =>
    (await does(server, name, input, { happened: true, ...more })).id;
  const line = await make('record-line', { name: `line ${SPIKED}` });
  const yard = await make('record-yard', { name: `yard ${SPIKED}` });
  const person = await make('record-person', { name: `person ${SPIKED}` });
  const colony = await make('record-colony', { colony: { code: `hive ${SPIKED}`, form: 'full' }, yard });
  const queen = await make('record-queen', {
    queen: { code: `queen ${SPIKED}`, emerged: daysFromNow(-370), line },
    stands: { colony, since: daysFromNow(-300) },
    note: `note ${SPIKED}`,
  });
  const sisters = await make('record-sister-group', { code: `sisters ${SPIKED}`, dam: queen, size: 12 });
  const season = await make('record-mating-season', {
    place: `place ${SPIKED}`,
    year: 2026,
    sources: [{ sister_group: sisters }],
  });
  const flown = await make('record-queen', { queen: { code: `flown ${SPIKED}`, emerged: '2026-06-01' } });
  await make('record-natural-mating', { queen: flown, season, flew_from: '2026-06-10' });
  await make('record-score', { colony, trait: 'temper', value: 3, day: daysFromNow(-3), person });
  const cross = await make('plan-cross', {
    cross: { code: `X ${SPIKED}`, purpose: SPIKED, queens_wanted: 4, dose_ul: 8, inseminate_on: daysFromNow(60) },
    dams: [queen],
    drone_sources: [{ queen: stock.mother }],
  });
  const graft = await make('record-graft', {
    graft: { code: `bar ${SPIKED}`, day: daysFromNow(-2), cross, larvae: 20 },
    ranges: [{ position_from: 1, position_to: 20, dam: queen }],
  });
  const comb = await make('record-drone-comb', {
    code: `comb ${SPIKED}`,
    mother: stock.mother,
    in_on: daysFromNow(-20),
  });
  await does(
    server,
    'tally-drones',
    {
      gave: 9,
      sources: [{ mother: queen }],
      into: [{ new: { code: `tube ${SPIKED}`, bore_mm: 0.8 }, start: 0, end: 9 }],
    },
    { happened: true },
  );
  await make('record-note', { about: stock.tubes[0], about_kind: 'tube', day: DAY, words: `tube note ${SPIKED}` });
  return {
    '/history/$record': queen,
    '/semen/tube/$id': stock.tubes[0] ?? '',
    '/stock/places/$id': season,
    '/yard/yard/$id': yard,
    '/yard/round/$yard': yard,
    '/yard/colony/$id': colony,
    '/rearing/countback/$cross': cross,
    '/rearing/graft/$graft': graft,
    '/rearing/comb/$comb': comb,
    '/crosses/$cross': cross,
    '/crosses/$cross/change': cross,
    '/stock/queen/$id': queen,
    '/stock/line/$id': line,
    '/stock/sisters/$id': sisters,
    '/bench/$day': stock.day,
    '/bench/$day/board/$cross': `${stock.day} ${stock.crossB}`,
    '/bench/$day/paper': stock.day,
    '/bench/$day/put-away': stock.day,
  };
}

/** An address with its `$` places filled, in order. */
export function addressOf(pattern: string, ids: Addressed): string {
  const given = (ids[pattern] ?? '').split(' ');
  return pattern.replace(/\$\w+/g, () => given.shift() || 'missing');
}
