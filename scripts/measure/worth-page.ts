/**
 * The worth of a large stock on its page, in a real browser over a real book: how long until the page stands and until the ranking is there, and how
 * long the page ever goes without answering meanwhile. `WORTH_QUEENS` sets the number of queens.
 */
import { join } from 'node:path';
import { DatabaseSync } from '@photostructure/sqlite';
import { chromium } from '@playwright/test';
import { sourcesOf } from '#domain/pedigree/stock.ts';
import { randomStream } from '#numeric/random/random-stream.ts';
import { uuid7 } from '#units/record-id.ts';
import { oneTrait, simulatePedigree, simulateRecords } from '../../bench/_stock.ts';
import { freshFolder, removeFolder, startServer } from '../../tests/support/running-server.ts';

const QUEENS = Number(process.env.WORTH_QUEENS ?? 200_000);
const RECORDED = 0.7;
/** Longest the page may go without a frame, milliseconds. */
const LONGEST_FRAME = 250;
const FIRST_YEAR = 2005;

let held = true;
const say = (isHeld: boolean, text: string) => {
  held &&= isHeld;
  console.log(`${isHeld ? 'held' : 'NOT held'}: ${text}`);
};
const seconds = (from: number) => ((performance.now() - from) / 1000).toFixed(1);

const random = randomStream(7);
const newId = (i: number) =>
  uuid7(
    1_700_000_000_000 + i,
    Uint8Array.from({ length: 10 }, () => random.below(256)),
  );

/** Writes a simulated stock straight into the tables of a book: queens inseminated with drones of one queen each, honey of seven in ten. */
function writeBook(file: string): void {
  const pedigree = simulatePedigree({ queens: QUEENS, mating: 'own', cohorts: 20 });
  const records = simulateRecords(pedigree, oneTrait, { share: RECORDED });
  const { columns } = pedigree.stock;
  const db = new DatabaseSync(file);
  db.exec('PRAGMA synchronous=OFF; PRAGMA foreign_keys=OFF; BEGIN');
  const into = (table: string, names: readonly string[]) =>
    db.prepare(`insert into "${table}" (${names.map((n) => `"${n}"`)}) values (${names.map(() => '?')})`);
  const queen = into('queen', ['id', 'code', 'year', 'dam', 'origin']);
  const insemination = into('insemination', ['id', 'queen', 'day', 'drones', 'done', 'given_ul']);
  const source = into('insemination_source', ['id', 'insemination', 'queen', 'share']);
  const score = into('score', ['id', 'queen', 'yard', 'trait', 'value', 'unit', 'method', 'day']);
  const yard = into('yard', ['id', 'name']);
  const ids = Array.from({ length: QUEENS }, (_, i) => newId(i));
  const yearOf = (i: number) => FIRST_YEAR + Math.min(19, Math.floor(i / Math.floor(QUEENS / 20)));
  for (const [i, id] of ids.entries()) {
    const dam = columns.dam[i] as number;
    queen.run(id, `Q${i}`, yearOf(i), dam < 0 ? null : (ids[dam] as string), 'bred');
    const pool = columns.carries[i] as number;
    if (pool < 0) continue;
    const done = newId(QUEENS + i);
    const [at] = sourcesOf(columns, pool);
    insemination.run(done, id, `${yearOf(i)}-06-20`, columns.sourceDrones[at] as number, 1, 8);
    source.run(newId(2 * QUEENS + i), done, ids[columns.sourceRef[at] as number] as string, 1);
  }
  const yards = Array.from({ length: 400 }, (_, i) => newId(3 * QUEENS + i));
  for (const [i, id] of yards.entries()) yard.run(id, `Yard ${i}`);
  const level = records.factors[0]?.level ?? new Int32Array();
  for (let r = 0; r < records.count; r++) {
    const i = records.queen[r] as number;
    const where = yards[(level[r] as number) % yards.length] as string;
    score.run(
      newId(4 * QUEENS + r),
      ids[i] as string,
      where,
      'honey',
      30 + (records.values[r] as number),
      'kg',
      'season',
      `${yearOf(i) + 1}-08-01`,
    );
  }
  db.exec('COMMIT');
  db.close();
  console.log(`${QUEENS} queens, ${records.count} records written`);
}

// first of all, so that no server is left behind where there is no browser
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM_PATH ?? '', args: ['--no-sandbox'] });
const folder = freshFolder();
let server = await startServer(folder);
await server.stop();
writeBook(join(folder, 'combwright.sqlite'));
server = await startServer(folder);
const page = await browser.newPage();
page.on('pageerror', (error) => say(false, error.message));
/** Runs in the page: watches how long it goes without a frame. As text, since what compiles this file adds names of its own to functions. */
const WATCH = `
  window.longest = 0;
  let last = performance.now();
  const frame = (now) => {
    window.longest = Math.max(window.longest, now - last);
    last = now;
    requestAnimationFrame(frame);
  };
  requestAnimationFrame(frame);`;
await page.addInitScript({ content: WATCH });
const longestGap = async () => Number(await page.evaluate('window.longest'));

/** Longest another request to the server waited since it was last asked for, milliseconds. */
let waited = 0;
let isAsking = true;
async function askAllTheTime(): Promise<void> {
  while (isAsking) {
    const from = performance.now();
    await fetch(`${server.url}/api/health`, { headers: { connection: 'close' } });
    waited = Math.max(waited, performance.now() - from);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}
const asking = askAllTheTime();
const sayWaited = () => {
  console.log(`another request to the server waited ${(waited / 1000).toFixed(1)} s at most`);
  waited = 0;
};

let from = performance.now();
await page.goto(`${server.url}/stock/worth`);
await page.getByRole('button', { name: 'Work it out' }).waitFor({ timeout: 300_000 });
console.log(`the page stands after ${seconds(from)} s`);
let seen = await longestGap();
say(seen < LONGEST_FRAME, `until it stood the longest gap was ${seen.toFixed(0)} ms (aim ${LONGEST_FRAME})`);
sayWaited();
await page.evaluate('window.longest = 0');
from = performance.now();
await page.getByRole('button', { name: 'Work it out' }).click();
await page.getByText('Worked out and kept.').waitFor({ timeout: 600_000 });
await page.locator('.ranked').first().waitFor({ timeout: 300_000 });
console.log(`ranked after ${seconds(from)} s: ${await page.locator('.ranked').first().getAttribute('aria-label')}`);
seen = await longestGap();
say(seen < LONGEST_FRAME, `meanwhile the longest gap was ${seen.toFixed(0)} ms (aim ${LONGEST_FRAME})`);
sayWaited();
isAsking = false;
await asking;
await page.screenshot({ path: '.out/worth-page.png' });
await browser.close();
await server.stop();
if (process.env.WORTH_KEEP === undefined) removeFolder(folder);
else console.log(folder);
process.exit(held ? 0 : 1);
