import { readFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import type { BenchSummary } from '../../src/questions/bench/bench-summary.ts';
import { freshFolder, type Running, removeFolder, startServer } from '../support/running-server.ts';
import { asked, type BenchStock, benchStock, DAY, present, press } from './support/bench-stock.ts';
import { does, expect, expectAccessible, picture, test } from './support/journey.ts';

const summaryOf = async (server: Pick<Running, 'url'>, day: string): Promise<BenchSummary> =>
  (await asked<{ summary: BenchSummary }>(server as Running, 'bench-summary', { bench_day: day })).summary;

const doses = async (server: Pick<Running, 'url'>, day: string): Promise<number> =>
  (await summaryOf(server, day)).crosses.reduce((sum, cross) => sum + cross.doses, 0);

const board = (page: Page) => page.getByRole('region', { name: 'Bench board' });
const now = (page: Page) => board(page).locator('.board-plate');
const openBoard = async (page: Page, server: Pick<Running, 'url'>, { day, crossB }: BenchStock) => {
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.goto(`${server.url}/bench/${day}/board/${crossB}`);
  await expect(board(page)).toBeVisible();
};

/** Nothing on the board is cut off or needs scrolling. */
async function fits(page: Page): Promise<void> {
  await page.evaluate(() => document.fonts.ready.then(() => {}));
  const cut = await page.evaluate(() => {
    const shown = document.querySelector('.board');
    if (shown === null) return ['no board'];
    const out = [
      ...shown.querySelectorAll('.board-head *, .board-hero *, .board-plate, .board-dots, .board-buttons button'),
    ]
      .filter((each) => {
        const { left, right, top, bottom, width } = each.getBoundingClientRect();
        return width > 0 && (left < -1 || top < -1 || right > innerWidth + 1 || bottom > innerHeight + 1);
      })
      .map((each) => each.className || each.tagName);
    const parts = [
      '.board-head',
      '.board-hero .queen',
      '.board-hero .mothers',
      '.board-plate',
      '.board-last',
      '.board-dots',
      '.board-buttons',
    ];
    const boxes = parts.flatMap((name) => {
      const box = shown.querySelector(name)?.getBoundingClientRect();
      return box === undefined || box.height === 0 ? [] : [{ name, top: box.top, bottom: box.bottom }];
    });
    for (const [i, box] of boxes.entries()) {
      const next = boxes[i + 1];
      if (next !== undefined && next.top < box.bottom - 2) out.push(`${box.name} over ${next.name}`);
    }
    for (const code of shown.querySelectorAll('.board-hero .queen, .board-head *, .board-last'))
      if (code.scrollWidth > code.clientWidth + 1 && getComputedStyle(code).display !== 'inline')
        out.push(`${code.className} is cut: ${code.scrollWidth} in ${code.clientWidth}`);
    // A code of the head stands in one line, and so do the dots of twelve queens: another page's style must not reach in here.
    for (const one of shown.querySelectorAll('.board-head .code, .board-head .figures'))
      if (one.getBoundingClientRect().height > Number.parseFloat(getComputedStyle(one).fontSize) * 1.7)
        out.push(`${one.textContent} is broken into lines`);
    const tall = shown.scrollHeight > shown.clientHeight + 1 ? ['board scrolls'] : [];
    return [...out, ...tall].map(String);
  });
  expect(cut).toEqual([]);
}

test('twelve queens by keyboard alone: one wrong queen stopped, one leak, one step back, put away', async ({
  page,
  server,
}) => {
  const stock = await benchStock(server);
  await page.goto(`${server.url}/bench?today=${DAY}`);
  await expect(page.getByRole('heading', { name: 'Bench' })).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'bench-days');
  await page.goto(`${server.url}/bench/${stock.day}`);
  await expect(page.getByText('Carbon dioxide takes the air of a closed room')).toBeVisible();
  await expect(page.getByText('The queue needs 96.0 µl; the rack has 112.0 µl for it.')).toBeVisible();
  await page.getByLabel('tips sterile').check();
  await expect(page.getByText('1 of 7')).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'set-out');

  await openBoard(page, server, stock);
  await expectAccessible(page);
  await fits(page);
  await expect(board(page)).toContainText('drones of M-07 (Heath)');
  // Queen 1 with a reader: her cage past it, one press, her cage past it again.
  await present(page, '1');
  await expect(now(page)).toContainText('Give 8.0 µl to 27-001');
  await press(page);
  await present(page, '1');
  await expect(board(page)).toContainText('1 of 12');
  // Queen 2 by the queue: two presses; then a leak is noted late.
  await press(page);
  await press(page);
  await page.keyboard.press('1');
  await page.waitForTimeout(80);
  // A cage of cross A: stopped before the dose, taken away.
  await present(page, '91');
  const stop = page.getByRole('alertdialog');
  await expect(stop).toContainText('belongs to cross A');
  await expectAccessible(page);
  await page.screenshot({ path: '.out/pictures/board-stop.png' });
  // A pedal, a label, a pause leave no STOP.
  await press(page);
  await page.keyboard.press('p');
  await present(page, '3');
  await expect(stop).toBeVisible();
  expect(await doses(server, stock.day)).toBe(2);
  await page.keyboard.press('1');
  await expect(stop).toBeHidden();
  // Queen 3: given, and stepped back: a hold offers, a press within 3 s does it.
  await present(page, '3');
  await press(page);
  await expect(board(page)).toContainText('Last: 27-003');
  await page.keyboard.down('Space');
  await page.waitForTimeout(1_700);
  await page.keyboard.up('Space');
  await expect(board(page)).toContainText('Press again to step back: dose 8.0 µl to 27-003');
  await page.waitForTimeout(430);
  await press(page);
  await expect(board(page)).toContainText('Last: 27-002');
  await expect(now(page)).toContainText('Give 8.0 µl to 27-003');
  await press(page);
  // Queen 4 is dead in her cage: one key and a digit, the queue goes on.
  await page.keyboard.press('n');
  await page.waitForTimeout(80);
  await page.keyboard.press('1');
  await expect(now(page)).toContainText('Place queen 27-005');
  // Half a microlitre more for queen 5, a new tip, and the pause says where the work stopped.
  await press(page);
  await page.keyboard.press('+');
  await page.waitForTimeout(100);
  await page.keyboard.press('t');
  await page.waitForTimeout(100);
  await page.keyboard.press('p');
  await expect(page.getByRole('dialog', { name: 'Paused' })).toContainText('Give 8.5 µl to 27-005');
  await press(page);
  await press(page);
  await expect(board(page)).toContainText('Last: 27-005, 8.5 µl');
  for (let i = 6; i <= 7; i++) {
    await present(page, String(i));
    await press(page);
  }
  // Six doses are out of C-07: 48.5 of 52 µl. The last 3.5 µl and 4.5 of the next tube are one dose.
  await expect(board(page)).toContainText('No dose is left');
  await present(page, '8');
  await page.keyboard.press('c');
  await page.waitForTimeout(150);
  await press(page);
  for (let i = 9; i <= 12; i++) {
    await present(page, String(i));
    await press(page);
  }
  await expect(board(page)).toContainText('12 of 12');
  await expect(now(page)).toContainText('No queen is waiting');
  for (const i of [2, 3, 5, 6, 7, 8, 9, 10, 11, 12]) await present(page, String(i));
  await expect(page.getByRole('img', { name: '11 back in, 0 given, 1 not done, 0 to come' })).toBeVisible();
  await page.keyboard.press('f');
  await page.waitForTimeout(200);
  await page.keyboard.press('Escape');
  await expect(page).toHaveURL(new RegExp(`/bench/${stock.day}$`));

  await expect.poll(() => doses(server, stock.day)).toBe(11);
  const summary = await summaryOf(server, stock.day);
  const queens = summary.crosses.find(({ code }) => code === 'B')?.queens ?? [];
  expect(queens[1]?.exceptions.map(({ kind }) => kind)).toEqual(['leak']);
  expect(queens[3]).toMatchObject({ done: false, why: 'dead' });
  expect(queens[4]).toMatchObject({ given: 8.5, tip: '4' });
  expect(queens[7]?.draws.map(({ tube, microlitres }) => [tube, microlitres])).toEqual([
    ['C-07', 3.5],
    ['C-08', 4.5],
  ]);

  await page.getByRole('button', { name: 'Put the bench away' }).click();
  await expect(page.getByRole('heading', { name: 'Put the bench away' })).toBeVisible();
  await expect(page.getByText('taken away: 91 · A')).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'put-away');
  await page.getByRole('button', { name: 'That was it' }).click();
  await page.getByPlaceholder('how it came about').fill('wrong tray');
  await page.getByRole('button', { name: 'Say why' }).click();
  await expect(page.getByText('wrong tray')).toBeVisible();
  await expect(page.getByText('Everything is settled')).toBeVisible();
  await page.getByLabel(/C-07.*booked 0.0 µl/).fill('0');
  await page.getByRole('button', { name: 'Close the day' }).click();
  await expect(page.getByText('This day was put away')).toBeVisible();
});

test('“it has happened” is recorded as it was, with a worry to settle', async ({ page, server }) => {
  const stock = await benchStock(server);
  await openBoard(page, server, stock);
  await present(page, '1');
  await present(page, 'C-01');
  const stop = page.getByRole('alertdialog');
  await expect(stop).toContainText('This tube does not belong');
  await expect(stop).toContainText('belongs to cross A');
  await page.keyboard.press('2');
  await expect(stop).toBeHidden();
  await expect.poll(() => doses(server, stock.day)).toBe(1);
  const { stops, worries, crosses } = await summaryOf(server, stock.day);
  expect(stops).toMatchObject([{ passed: true }]);
  expect(worries.map(({ code }) => code)).toContain('wrong-tube');
  expect(crosses.find(({ code }) => code === 'B')?.queens[0]?.draws).toEqual([{ tube: 'C-01', microlitres: 8 }]);
  // A label no book knows is stopped too.
  await present(page, '5901234123457');
  await expect(stop).toContainText('is in no book');
  await page.keyboard.press('1');
  await page.goto(`${server.url}/bench/${stock.day}/put-away`);
  await expect(page.getByText('Tube C-01 holds drones the cross does not ask for')).toBeVisible();
  await picture(page, 'put-away-worries');
});

test('the server is killed mid-day: the board goes on, reopens at the same queen, and sends everything once', async ({
  page,
}) => {
  const folder = freshFolder();
  let server = await startServer(folder);
  const port = new URL(server.url).port;
  const stock = await benchStock(server);
  await openBoard(page, server, stock);
  await press(page);
  await press(page);
  await expect.poll(() => doses(server, stock.day)).toBe(1);
  // The pages are kept on this device once the board was open.
  await page.evaluate(async () => (await navigator.serviceWorker.ready).active !== null);
  await expect
    .poll(() => page.evaluate(async () => (await (await caches.open('combwright-pages')).keys()).length))
    .toBeGreaterThan(2);

  await server.kill();
  for (let i = 0; i < 3; i++) {
    await press(page);
    await press(page);
  }
  await expect(page.getByText('unsent: 3')).toBeVisible();
  await expect(page.getByText('Combwright does not answer')).toBeVisible();
  await page.screenshot({ path: '.out/pictures/board-unsent.png' });
  await present(page, '7');
  await page.keyboard.press('6');
  await page.waitForTimeout(150);
  await expect(now(page)).toContainText('27-007');
  const [file] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('e')]);
  const saved = JSON.parse(readFileSync(await file.path(), 'utf8')) as { name: string }[];
  expect(saved.map(({ name }) => name)).toEqual(['give-dose', 'give-dose', 'give-dose']);

  // Reload while nothing answers: the page, the queue, the queen in hand and what was noted of her are there.
  await page.reload();
  await expect(now(page)).toContainText('Give 8.0 µl to 27-007');
  await expect(board(page)).toContainText('bubble');
  await expect(board(page)).toContainText('4 of 12');
  await expect(page.getByText('unsent: 3')).toBeVisible();
  await press(page);
  await expect(page.getByText('unsent: 4')).toBeVisible();

  server = await startServer(folder, { PORT: port });
  await expect(page.getByText('unsent:')).toBeHidden({ timeout: 20_000 });
  expect(await doses(server, stock.day)).toBe(5);
  await page.reload();
  await expect(board(page)).toContainText('5 of 12');
  await expect(now(page)).toContainText('Place queen 27-005');
  expect(await doses(server, stock.day)).toBe(5);
  await server.stop();
  removeFolder(folder);
});

test('a pedal pressed in the moment the board appears is heard', async ({ page, server }) => {
  const stock = await benchStock(server);
  // Made in the page: the press falls between the board standing there and its being painted, sooner than any foot.
  await page.addInitScript(() => {
    new MutationObserver((_, observer) => {
      if (document.querySelector('.board') === null) return;
      observer.disconnect();
      dispatchEvent(new KeyboardEvent('keydown', { key: ' ', code: 'Space' }));
      setTimeout(() => dispatchEvent(new KeyboardEvent('keyup', { key: ' ', code: 'Space' })), 120);
    }).observe(document, { childList: true, subtree: true });
  });
  await openBoard(page, server, stock);
  await expect(now(page)).toContainText('Give 8.0 µl to 27-001');
});

test('started as an installed app while the server is away: Bench lists the boards this device kept, and one opens and works', async ({
  page,
}) => {
  const folder = freshFolder();
  const server = await startServer(folder);
  const stock = await benchStock(server);
  await openBoard(page, server, stock);
  await press(page);
  await expect(now(page)).toContainText('Give 8.0 µl to 27-001');
  await page.evaluate(async () => (await navigator.serviceWorker.ready).active !== null);
  await expect
    .poll(() => page.evaluate(async () => (await (await caches.open('combwright-pages')).keys()).length))
    .toBeGreaterThan(2);
  const told = (await (await fetch(`${server.url}/manifest.webmanifest`)).json()) as {
    start_url: string;
    display: string;
  };
  expect(told).toMatchObject({ start_url: '/today', display: 'standalone' });
  await server.kill();

  // As its icon starts it: another window of the same browser, at the address the manifest names.
  const started = await page.context().newPage();
  await page.close();
  await started.setViewportSize({ width: 1280, height: 800 });
  await started.goto(`${server.url}${told.start_url}`);
  await expect(started.getByText('Combwright does not answer').first()).toBeVisible();
  await started.getByRole('link', { name: /Bench/ }).first().click();
  await expect(started.getByText('Boards kept on this device')).toBeVisible({ timeout: 20_000 });
  await picture(started, 'bench-kept-boards');
  await started.getByRole('link', { name: 'Bench board of cross B' }).click();
  await started.setViewportSize({ width: 1280, height: 800 });
  await expect(now(started)).toContainText('Give 8.0 µl to 27-001');
  await press(started);
  await expect(started.getByText('unsent: 1')).toBeVisible();
  removeFolder(folder);
});

test('the board is read from the stated distance, in three themes, at two sizes, without scrolling', async ({
  page,
  server,
}) => {
  const stock = await benchStock(server);
  await openBoard(page, server, stock);
  await present(page, '1');
  for (const theme of ['paper', 'lamp', 'red'] as const) {
    await expect(board(page)).toHaveAttribute('data-theme', theme);
    for (const [width, height] of [
      [1280, 800],
      [1024, 768],
    ] as const) {
      await page.setViewportSize({ width, height });
      await page.waitForTimeout(100);
      await fits(page);
      await page.screenshot({ path: `.out/pictures/board-${theme}-${width}.png` });
    }
    await expectAccessible(page);
    await page.keyboard.press('l');
    await page.waitForTimeout(100);
  }
  for (const centimetres of [50, 100, 150]) {
    await page.evaluate((far) => localStorage.setItem('combwright.bench.distance', String(far)), centimetres);
    await page.reload();
    await expect(board(page)).toBeVisible();
    await fits(page);
    await page.screenshot({ path: `.out/pictures/board-${centimetres}cm.png` });
  }
  const small = await page.evaluate(
    () =>
      [...document.querySelectorAll('.board button')]
        .map((each) => each.getBoundingClientRect())
        .filter(({ height, width }) => height < (20 * 96) / 25.4 - 1 || width < (20 * 96) / 25.4 - 1).length,
  );
  expect(small, 'targets under 20 mm on the board').toBe(0);
  for (const key of ['o', '?', 'n', '0', 'Enter', 'm', 'g']) {
    await page.keyboard.press(key);
    const panel = page.getByRole('dialog');
    await expect(panel).toBeVisible();
    await expectAccessible(page);
    if (key === 'Enter' || key === '?' || key === 'o')
      await page.screenshot({ path: `.out/pictures/board-panel-${key === '?' ? 'keys' : key}.png` });
    await page.keyboard.press('Escape');
    await expect(panel).toBeHidden();
  }
});

test('a paper sheet is entered by exception in a few keys', async ({ page, server }) => {
  const stock = await benchStock(server);
  await page.goto(`${server.url}/bench/${stock.day}/paper`);
  const rows = page.locator('.queue.paper > li');
  await expect(rows).toHaveCount(13);
  await rows.nth(1).getByLabel('leak').check();
  await rows.nth(3).getByLabel('Done').selectOption('dead');
  await expectAccessible(page);
  await picture(page, 'paper-sheet');
  await page.getByRole('button', { name: 'Record these 12 queens' }).click();
  await expect(page.getByRole('heading', { name: 'Put the bench away' })).toBeVisible();
  await expect.poll(() => doses(server, stock.day)).toBe(11);
  const { crosses } = await summaryOf(server, stock.day);
  const queens = crosses.find(({ code }) => code === 'B')?.queens ?? [];
  expect(queens.filter(({ closed }) => closed)).toHaveLength(11);
  expect(queens[1]?.exceptions.map(({ kind }) => kind)).toEqual(['leak']);
  expect(queens[3]).toMatchObject({ done: false, why: 'dead' });
  // 52 µl in the first tube: six doses and the rest of it with the next one.
  expect(queens.flatMap(({ draws }) => draws).reduce((sum, { microlitres }) => sum + microlitres, 0)).toBe(88);
});

test('a paper sheet that names tubes and tips, with a dose nobody can have given', async ({ page, server }) => {
  const stock = await benchStock(server);
  await page.goto(`${server.url}/bench/${stock.day}/paper`);
  const rows = page.locator('.queue.paper > li');
  await expect(rows).toHaveCount(13);
  await rows.nth(0).getByLabel('out of').selectOption({ label: 'C-08' });
  await rows.nth(1).getByLabel('out of').selectOption({ label: 'C-07' });
  await rows.nth(2).getByLabel('new tip').check();
  for (let i = 3; i < 12; i++) await rows.nth(i).getByLabel('Done').selectOption('later');
  await rows.nth(2).getByLabel('µl').fill('8,x');
  await expect(page.getByRole('alert')).toContainText('27-003: “8,x” is no dose.');
  await expect(page.getByRole('button', { name: 'Record these 3 queens' })).toBeDisabled();
  await expectAccessible(page);
  await rows.nth(2).getByLabel('µl').fill('8,5');
  await page.getByRole('button', { name: 'Record these 3 queens' }).click();
  await expect(page.getByRole('heading', { name: 'Put the bench away' })).toBeVisible();
  await expect.poll(() => doses(server, stock.day)).toBe(3);
  const queens = (await summaryOf(server, stock.day)).crosses.find(({ code }) => code === 'B')?.queens ?? [];
  expect(queens.slice(0, 3).map(({ draws, tip }) => [draws, tip])).toEqual([
    [[{ tube: 'C-08', microlitres: 8 }], '3'],
    [[{ tube: 'C-07', microlitres: 8 }], '3'],
    [[{ tube: 'C-07', microlitres: 8.5 }], '4'],
  ]);
});

test('a condemned tube at the board: not opened by any press, stopped by its label', async ({ page, server }) => {
  const stock = await benchStock(server);
  const reasons = [{ reason: 'faeces', count: 1, into: 0 }];
  const into = [{ tube: stock.tubes[0], start: 52, end: 52 }];
  await does(
    server,
    'tally-drones',
    { gave: 0, sources: [{ mother: stock.mother }], reasons, into },
    { happened: true },
  );
  await openBoard(page, server, stock);
  await expect(board(page).locator('.board-head')).toContainText('C-08');
  await present(page, '1');
  await present(page, 'C-07');
  const stop = page.getByRole('alertdialog');
  await expect(stop).toContainText('This tube must not be used');
  await expect(stop).toContainText('is condemned: faeces got into it');
  await expectAccessible(page);
  await page.screenshot({ path: '.out/pictures/board-stop-condemned.png' });
  await page.keyboard.press('1');
  await expect(stop).toBeHidden();
  await press(page);
  await expect.poll(() => doses(server, stock.day)).toBe(1);
  const given = (await summaryOf(server, stock.day)).crosses.find(({ code }) => code === 'B')?.queens[0];
  expect(given?.draws).toEqual([{ tube: 'C-08', microlitres: 8 }]);
});

test('two devices that could not hear of each other gave the same queen her dose: two readings, one is chosen', async ({
  page,
  server,
  browser,
}) => {
  const stock = await benchStock(server);
  await openBoard(page, server, stock);
  const other = await (await browser.newContext()).newPage();
  await openBoard(other, server, stock);
  await page.context().setOffline(true);
  await press(page);
  await page.keyboard.press('+');
  await page.waitForTimeout(120);
  await press(page);
  await expect(page.getByText('unsent: 1')).toBeVisible();
  await press(other);
  await press(other);
  await expect.poll(() => doses(server, stock.day)).toBe(1);
  await page.context().setOffline(false);
  await expect.poll(() => doses(server, stock.day), { timeout: 20_000 }).toBe(2);
  await page.goto(`${server.url}/bench/${stock.day}/put-away`);
  await expect(page.getByText('has two readings of her dose')).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'put-away-two-readings');
  await page
    .getByRole('listitem')
    .filter({ hasText: '8.5 µl out of C-07' })
    .last()
    .getByRole('button', { name: 'Only this was given' })
    .click();
  await expect(page.getByText('has two readings of her dose')).toBeHidden();
  await expect.poll(() => doses(server, stock.day)).toBe(1);
  expect((await summaryOf(server, stock.day)).crosses.find(({ code }) => code === 'B')?.queens[0]?.given).toBe(8.5);
  await other.context().close();
});

test('home: cage and nuc past the reader must match; another nuc stops it', async ({ page, server }) => {
  const stock = await benchStock(server);
  const give = { bench_day: stock.day, cross: stock.crossB };
  for (const queen of stock.queens.slice(0, 2))
    await does(
      server,
      'give-dose',
      { ...give, queen, draws: [{ tube: stock.tubes[0], microlitres: 8 }] },
      { happened: true },
    );
  await page.goto(`${server.url}/bench/${stock.day}/put-away`);
  const scan = async (label: string) => {
    await page.getByRole('region', { name: 'Home: cage' }).getByRole('textbox').fill(label);
    await page.keyboard.press('Enter');
  };
  await scan('K:1');
  await expect(page.getByText('goes home to N1.')).toBeVisible();
  await scan('N2');
  await expect(page.getByRole('alert')).toContainText('STOP. This is N2; she goes home to N1.');
  await expectAccessible(page);
  await picture(page, 'put-away-scan');
  await page.getByRole('button', { name: 'Taken away' }).click();
  await scan('N1');
  await expect(page.getByText('27-001 is home in N1, excluder on.')).toBeVisible();
  await scan('27-002');
  await scan('n2');
  await expect(page.getByText('27-002 is home in N2')).toBeVisible();
  await expect
    .poll(
      async () =>
        (await summaryOf(server, stock.day)).crosses.flatMap(({ queens }) => queens).filter(({ closed }) => closed)
          .length,
    )
    .toBe(2);
});

test('a helper sees the same board live on a second screen, and notes an exception there', async ({
  page,
  server,
  browser,
}) => {
  const stock = await benchStock(server);
  await openBoard(page, server, stock);
  const other = await (await browser.newContext()).newPage();
  await openBoard(other, server, stock);
  await press(page);
  await press(page);
  await expect(board(other)).toContainText('Last: 27-001', { timeout: 10_000 });
  await other.keyboard.press('1');
  await expect
    .poll(
      async () => (await summaryOf(server, stock.day)).crosses.flatMap(({ queens }) => queens)[0]?.exceptions.length,
    )
    .toBe(1);
  await press(page);
  await expect(now(page)).toContainText('Give 8.0 µl to 27-002');
  await expect(board(page)).toContainText('1 of 12');
  await other.context().close();
});
