import type { Running } from '../../support/running-server.ts';
import { does } from './journey.ts';

export const INSEMINATED = '2027-06-12';

/** So many days after the insemination, as an ISO day. */
export function after(days: number): string {
  const on = new Date(`${INSEMINATED}T12:00:00Z`);
  on.setUTCDate(on.getUTCDate() + days);
  return on.toISOString().slice(0, 10);
}

const at = (day: string, clock: string) => `${day}T${clock}:00+02:00[Europe/Berlin]`;

/** Ids of an invented station on the evening of its insemination day. */
export type YardStock = {
  yard: string;
  nucs: string[];
  queens: string[];
  cross: string;
  benchDay: string;
  dam: string;
};

type Make = (name: string, input: unknown, more?: object) => Promise<string>;

/** Fourteen queens of the year before, whose eggs were seen between day 6 and day 17. */
async function lastYear(make: Make, dam: string): Promise<void> {
  const day = '2026-06-13';
  const done = at(day, '10:00');
  const cross = await make('plan-cross', {
    cross: { code: 'A', queens_wanted: 14, dose_ul: 8, inseminate_on: day },
    dams: [dam],
    drone_sources: [{ queen: dam }],
    drones_there: true,
    virgins_there: true,
  });
  const bench_day = await make('open-bench-day', { day, zone: 'Europe/Berlin' }, { done });
  const eggs = [6, 7, 7, 7, 8, 8, 8, 9, 9, 9, 10, 10, 12, 17];
  for (const [n, days] of eggs.entries()) {
    const two = String(n + 1).padStart(2, '0');
    const queen = await make('record-queen', { queen: { code: `26-1${two}`, emerged: '2026-06-05', dam } }, { done });
    const dose = { bench_day, cross, queen, draws: [], microlitres: 8, tip: 1 };
    await make('give-dose', dose, { done });
    const seen = new Date(`${day}T12:00:00Z`);
    seen.setUTCDate(seen.getUTCDate() + days);
    const look = { queen, sights: ['eggs'], day: seen.toISOString().slice(0, 10) };
    await make('check-laying', look);
    const caps = { queen, sights: [n === 13 ? 'drone-caps' : 'worker-caps'], day: '2026-07-05' };
    await make('check-laying', caps);
  }
}

/**
 * An invented station: yard Heath with twelve nucs in walking order, twelve sisters inseminated by two people with two tips out of
 * two tubes, one a few days old; and a past year to compare with. Everything through acts.
 */
export async function yardStock(server: Running): Promise<YardStock> {
  const make: Make = async (name, input, more = {}) =>
    (await does(server, name, input, { happened: true, done: at(INSEMINATED, '08:00'), ...more })).id;
  const yard = await make('record-yard', { name: 'Heath', zone: 'Europe/Berlin', walking_order: 1, distance_km: 3 });
  const mother = await make('record-queen', { queen: { code: 'M-07', emerged: '2025-06-02' } });
  const dam = await make('record-queen', { queen: { code: '25-020', emerged: '2025-05-20' } });
  const people = [await make('record-person', { name: 'Mira' }), await make('record-person', { name: 'Tadek' })];
  await lastYear(make, dam);
  const cross = await make('plan-cross', {
    cross: { code: 'B', queens_wanted: 12, dose_ul: 8, inseminate_on: INSEMINATED },
    dams: [dam],
    drone_sources: [{ queen: mother }],
    drones_there: true,
    virgins_there: true,
  });
  const [nucs, queens]: [string[], string[]] = [[], []];
  for (let n = 1; n <= 12; n++) {
    const two = String(n).padStart(2, '0');
    const colony = { code: `N-${two}`, form: 'nuc', since: '2027-06-01' };
    nucs.push(await make('record-colony', { colony, yard, spot: n }));
    const queen = { code: `27-0${two}`, emerged: '2027-06-04', dam };
    const stands = { colony: nucs.at(-1), since: '2027-06-04' };
    queens.push(await make('record-queen', { queen, mark: { colour: 'yellow', disc: n }, stands }));
  }
  const fill = async (code: string, day: string) => {
    const tally = {
      taken: 120,
      left_over: 10,
      gave: 55,
      sources: [{ mother }],
      into: [{ new: { code, bore_mm: 0.8 }, start: 0, end: 56 }],
    };
    const more = { happened: true, done: at(day, '09:00') };
    const done = (await does(server, 'tally-drones', tally, more)) as unknown as { tubes: string[] };
    return done.tubes[0] ?? '';
  };
  const tubes = [await fill('C-07', '2027-06-09'), await fill('C-08', INSEMINATED)];
  const benchDay = await make('open-bench-day', { day: INSEMINATED, place: 'bee lab', zone: 'Europe/Berlin' });
  const queue = queens.map((queen, n) => ({ queen, cage: String(n + 1), home: nucs[n] }));
  await make('queue-queens', { bench_day: benchDay, cross, queens: queue });
  for (const [n, queen] of queens.entries()) {
    const draws = [{ tube: tubes[n < 6 ? 0 : 1], microlitres: 8 }];
    const dose = { bench_day: benchDay, cross, queen, draws, tip: n < 9 ? 3 : 4, operator: people[n < 7 ? 0 : 1] };
    await make('give-dose', dose, { done: at(INSEMINATED, `10:${String(n * 4).padStart(2, '0')}`) });
  }
  return { yard, nucs, queens, cross, benchDay, dam };
}
