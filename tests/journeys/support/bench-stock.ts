import type { Page } from '@playwright/test';
import type { Running } from '../../support/running-server.ts';
import { does } from './journey.ts';

export const daysFromNow = (days: number): string =>
  new Date(Date.now() + days * 86_400_000).toISOString().slice(0, 10);

/** Today: what is done at the bench carries the real time, so the station lives now too. */
export const DAY = daysFromNow(0);
const YESTERDAY = daysFromNow(-1);
const at = (clock: string) => `${YESTERDAY}T${clock}:00+00:00[UTC]`;

/** Ids of an invented station on the morning of an insemination day. */
export type BenchStock = {
  day: string;
  crossB: string;
  crossA: string;
  mother: string;
  other: string;
  queens: string[];
  stranger: string;
  tubes: string[];
};

async function asked<T>(server: Running, name: string, input: unknown): Promise<T> {
  const response = await fetch(`${server.url}/api/ask/${name}?input=${encodeURIComponent(JSON.stringify(input))}`);
  const body = (await response.json()) as { answer: T; problems?: unknown };
  if (body.answer === undefined) throw new Error(`${name}: ${JSON.stringify(body)}`);
  return body.answer;
}

export { asked };

/**
 * An invented station: two drone mothers, two crosses, twelve virgins in cages 1 to 12 with nucs to go home to, two tubes of the
 * right mother and one of the wrong one, a bench day with its queues.
 */
export async function benchStock(server: Running): Promise<BenchStock> {
  const make = async (name: string, input: unknown, more: object = {}) =>
    (await does(server, name, input, { happened: true, done: at('08:00'), ...more })).id;
  const heath = await make('record-line', { name: 'Heath' });
  const mother = await make('record-queen', { queen: { code: 'M-07', emerged: daysFromNow(-400), line: heath } });
  const other = await make('record-queen', { queen: { code: 'N-03', emerged: daysFromNow(-398) } });
  const dam = await make('record-queen', { queen: { code: '25-020', emerged: daysFromNow(-410) } });
  const crossB = await make('plan-cross', {
    cross: { code: 'B', queens_wanted: 12, dose_ul: 8, inseminate_on: DAY },
    dams: [dam],
    drone_sources: [{ queen: mother }],
    drones_there: true,
    virgins_there: true,
  });
  const crossA = await make('plan-cross', {
    cross: { code: 'A', queens_wanted: 3, dose_ul: 8, inseminate_on: DAY },
    dams: [dam],
    drone_sources: [{ queen: other }],
    drones_there: true,
    virgins_there: true,
  });
  const queens: string[] = [];
  const nucs: string[] = [];
  for (let i = 1; i <= 12; i++) {
    const nuc = await make('record-colony', { colony: { code: `N${i}`, form: 'nuc', since: daysFromNow(-11) } });
    nucs.push(nuc);
    const code = `27-${String(i).padStart(3, '0')}`;
    const queen = { code, emerged: daysFromNow(-8), dam };
    const mark = { colour: 'yellow', disc: i };
    queens.push(await make('record-queen', { queen, mark, stands: { colony: nuc, since: daysFromNow(-8) } }));
  }
  const stranger = await make('record-queen', { queen: { code: '27-091', emerged: daysFromNow(-8), dam } });
  const fill = async (code: string, of: string, microlitres: number) => {
    const done = (await does(
      server,
      'tally-drones',
      {
        taken: Math.round(microlitres * 2),
        left_over: 0,
        gave: Math.round(microlitres),
        sources: [{ mother: of }],
        into: [{ new: { code, bore_mm: 0.8 }, start: 0, end: microlitres }],
      },
      { happened: true, done: at('08:30') },
    )) as unknown as { tubes: string[] };
    return done.tubes[0] ?? '';
  };
  const tubes = [await fill('C-07', mother, 52), await fill('C-08', mother, 60), await fill('C-01', other, 30)];
  const day = await make('open-bench-day', { day: DAY, place: 'bee lab', first_tip: 3 });
  const queue = queens.map((queen, i) => ({ queen, cage: String(i + 1), home: nucs[i] }));
  await make('queue-queens', { bench_day: day, cross: crossB, queens: queue });
  await make('queue-queens', { bench_day: day, cross: crossA, queens: [{ queen: stranger, cage: '91' }] });
  return { day, crossB, crossA, mother, other, queens, stranger, tubes };
}

/** A pedal pressed for as long as a foot does. */
export async function press(page: Page, milliseconds = 120): Promise<void> {
  await page.keyboard.down('Space');
  await page.waitForTimeout(milliseconds);
  await page.keyboard.up('Space');
  // The lock-out after an accept, so that a bounce cannot record two queens.
  await page.waitForTimeout(430);
}

/**
 * A label carried past a reader that types: its keys come at once. They are made in the page, because on a busy machine keys
 * sent one by one from outside come as slowly as a person's.
 */
export async function present(page: Page, text: string): Promise<void> {
  await page.evaluate((label) => {
    for (const key of [...label, 'Enter']) {
      const told = { key, code: `reader ${key}`, bubbles: true, cancelable: true };
      document.body.dispatchEvent(new KeyboardEvent('keydown', told));
      document.body.dispatchEvent(new KeyboardEvent('keyup', told));
    }
  }, text);
  await page.waitForTimeout(60);
}
