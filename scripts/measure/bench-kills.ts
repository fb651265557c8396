/**
 * 500 random kills (browser and server) during scripted bench days: 0 acknowledged acts lost, none doubled, and the board reopens at
 * the right queen each time (interface.md, measures 10 and 29). `BENCH_KILLS=20` for fewer.
 */

import {
  asks,
  type BenchStation,
  freshDisk,
  type Killable,
  openChromium,
  press,
  removeDisk,
  shownDone,
  station,
} from '../../tests/support/bench-chromium.ts';
import { freshFolder, type Running, removeFolder, startServer } from '../../tests/support/running-server.ts';

const KILLS = Number(process.env.BENCH_KILLS ?? 500);
const QUEENS = 60;
let seed = Number(process.env.BENCH_SEED ?? 20270612);

/** A seeded generator (mulberry32): a failing day can be walked again. */
function dice(): number {
  seed = (seed + 0x6d2b79f5) | 0;
  let t = Math.imul(seed ^ (seed >>> 15), 1 | seed);
  t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
  return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
}

type Day = { folder: string; disk: string; port: string; server: Running; station: BenchStation; chromium: Killable };

async function openBoard({ server, station: { day, cross }, chromium }: Day): Promise<void> {
  await chromium.page.goto(`${server.url}/bench/${day}/board/${cross}`);
  await chromium.page.locator('.board-dots .count').waitFor();
}

async function newDay(): Promise<Day> {
  const folder = freshFolder();
  const disk = freshDisk();
  const server = await startServer(folder);
  const made = { folder, disk, port: new URL(server.url).port, server, station: await station(server, QUEENS) };
  const day = { ...made, chromium: await openChromium(disk) };
  await openBoard(day);
  return day;
}

async function endDay({ chromium, server, folder, disk }: Day): Promise<void> {
  await chromium.kill();
  await server.stop();
  removeFolder(folder);
  removeDisk(disk);
}

const inBook = async ({ server, station: { day } }: Day): Promise<{ doses: number; queens: number }> => {
  type Summary = { summary: { crosses: { doses: number; queens: { done: boolean | null }[] }[] } };
  const { summary } = await asks<Summary>(server, 'bench-summary', { bench_day: day });
  return {
    doses: summary.crosses.reduce((sum, { doses }) => sum + doses, 0),
    queens: summary.crosses.flatMap(({ queens }) => queens).filter(({ done }) => done === true).length,
  };
};

/** The queen the board names: in hand or next. */
const namedQueen = async ({ chromium }: Day): Promise<string> =>
  (await chromium.page.locator('.board-hero .queen').textContent()) ?? '';

const code = (place: number) => `27-${String(place).padStart(3, '0')}`;

const wrong: string[] = [];
let day = await newDay();
let acknowledged = 0;
const kills = { browser: 0, server: 0 };

for (let round = 1; round <= KILLS; round++) {
  if (acknowledged > QUEENS - 6) {
    await endDay(day);
    day = await newDay();
    acknowledged = 0;
  }
  const whole = 1 + Math.floor(dice() * 2);
  for (let i = 0; i < whole; i++) {
    await press(day.chromium.page);
    await press(day.chromium.page);
  }
  acknowledged = await shownDone(day.chromium.page);
  // One more queen, cut off at any moment of it.
  const under = press(day.chromium.page)
    .then(() => press(day.chromium.page))
    .catch(() => {});
  await new Promise((resolve) => setTimeout(resolve, dice() * 1_000));
  if (dice() < 0.5) {
    kills.browser++;
    await day.chromium.kill();
    await under;
    day.chromium = await openChromium(day.disk);
    await openBoard(day);
  } else {
    kills.server++;
    await day.server.kill();
    await under;
    day.server = await startServer(day.folder, { PORT: day.port });
  }
  await day.chromium.page.locator('.unsent').waitFor({ state: 'hidden', timeout: 30_000 });
  const shown = await shownDone(day.chromium.page);
  const book = await inBook(day);
  if (shown < acknowledged) wrong.push(`round ${round}: ${acknowledged} acknowledged, ${shown} after the kill`);
  if (book.doses !== shown || book.queens !== shown)
    wrong.push(`round ${round}: ${shown} on the board, ${book.doses} doses of ${book.queens} queens in the book`);
  const named = await namedQueen(day);
  if (named !== code(shown + 1)) wrong.push(`round ${round}: ${named} instead of ${code(shown + 1)}`);
  // A queen may be in hand from before the kill: the round begins with nobody under the microscope.
  if ((await day.chromium.page.locator('.board-hero.held').count()) > 0) await press(day.chromium.page);
  acknowledged = await shownDone(day.chromium.page);
  if (round % 20 === 0)
    console.log(`${round} kills (${kills.browser} browser, ${kills.server} server): ${wrong.length} wrong`);
}
await endDay(day);
for (const each of wrong.slice(0, 20)) console.log(each);
console.log(
  `${wrong.length === 0 ? 'holds' : 'DOES NOT HOLD'}  ${KILLS} kills: ${wrong.length} acts lost, doubled or boards at another queen`,
);
process.exit(wrong.length === 0 ? 0 : 1);
