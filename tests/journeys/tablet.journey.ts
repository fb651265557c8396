import { networkInterfaces } from 'node:os';
import type { Page } from '@playwright/test';
import { freshFolder, removeFolder, startServer } from '../support/running-server.ts';
import { asked, benchStock, press } from './support/bench-stock.ts';
import { expect, expectAccessible, picture, test } from './support/journey.ts';

/** An address of this machine on a network: to a browser a page from there comes over plain http, unlike one from the loopback. */
const card = Object.values(networkInterfaces())
  .flatMap((cards) => cards ?? [])
  .find(({ family, internal }) => family === 'IPv4' && !internal)?.address;
const ADDRESS = card ?? '127.0.0.2';

const board = (page: Page) => page.getByRole('region', { name: 'Bench board' });

test('a tablet is let in by a code from a second address, works the board, keeps what is done while cut off, and is sent away', async ({
  page,
  browser,
}) => {
  const folder = freshFolder();
  let server = await startServer(folder, { COMBWRIGHT_ADDRESSES: ADDRESS });
  const { port } = new URL(server.url);
  const outside = `http://${ADDRESS}:${port}`;
  const stock = await benchStock(server);
  // Closed until somebody opens it: nothing listens at the second address.
  await expect(fetch(`${outside}/api/health`)).rejects.toThrow();

  await page.goto(`${server.url}/bench`);
  await page.getByRole('link', { name: 'A tablet at the bench' }).click();
  await expect(page.getByText('Closed: nobody on the network')).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'devices-closed');
  await page.getByRole('button', { name: 'Open it to the local network' }).click();
  await expect(page.getByText('Open until')).toBeVisible();
  await page.getByRole('button', { name: 'Show a code' }).click();
  const code = (await page.locator('.pair-code').textContent()) ?? '';
  expect(code).toMatch(/^[2-9A-Z]{4}-[2-9A-Z]{4}$/);
  await expect(page.getByRole('img', { name: /as a QR code/ })).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'devices-code');

  // Whoever is not let in sees none of the book, by no path.
  for (const path of ['/api/ask/bench-days', '/api/history', '/api/export', '/api/events', '/api/pairing'])
    expect((await fetch(`${outside}${path}`)).status, path).toBe(401);
  // And a page elsewhere cannot have its name pointed here.
  expect((await fetch(`${outside}/api/health`)).status).toBe(200);

  const tablet = await (await browser.newContext({ viewport: { width: 1024, height: 768 } })).newPage();
  await tablet.goto(`${outside}/bench`);
  await expect(tablet.getByRole('heading', { name: 'Let this device in' })).toBeVisible();
  if (card !== undefined) {
    expect(await tablet.evaluate(() => isSecureContext)).toBe(false);
    await expect(tablet.getByText('Without Combwright it cannot start')).toBeVisible();
  }
  await tablet.getByLabel('The code shown there').fill('AAAA-AAAA');
  await tablet.getByLabel('Name of this device').fill('tablet at the bench');
  await tablet.getByRole('button', { name: 'Let it in' }).click();
  await expect(tablet.getByText('That code is wrong').first()).toBeVisible();
  await expectAccessible(tablet);
  // As the camera of the tablet opens it: the code stands in the address already.
  await tablet.goto(`${outside}/today`);
  // Not let in, it is shown the door by itself; the code is taken there too.
  await expect(tablet.getByLabel('The code shown there')).toHaveValue('');
  await tablet.goto(`${outside}/pair#${code}`);
  await expect(tablet.getByLabel('The code shown there')).toHaveValue(code);
  await tablet.getByLabel('Name of this device').fill('tablet at the bench');
  await tablet.getByRole('button', { name: 'Let it in' }).click();
  await expect(tablet.getByText('tablet at the bench is let in')).toBeVisible();
  await picture(tablet, 'pair-done');
  await expect(page.getByRole('cell', { name: 'tablet at the bench' })).toBeVisible({ timeout: 10_000 });
  await picture(page, 'devices-list');

  // The tablet works the board; the laptop sees it live.
  await tablet.setViewportSize({ width: 1024, height: 768 });
  await tablet.goto(`${outside}/bench/${stock.day}/board/${stock.crossB}`);
  await expect(board(tablet)).toBeVisible();
  await page.goto(`${server.url}/bench/${stock.day}/board/${stock.crossB}`);
  await press(tablet);
  await press(tablet);
  await expect(board(page)).toContainText('Last: 27-001', { timeout: 10_000 });

  // The server is killed mid-day: the open page keeps and replays; the restarted machine is open still and knows the tablet.
  await server.kill();
  await press(tablet);
  await press(tablet);
  await expect(tablet.getByText('unsent: 1')).toBeVisible();
  server = await startServer(folder, { COMBWRIGHT_ADDRESSES: ADDRESS, PORT: port });
  await expect(tablet.getByText('unsent:')).toBeHidden({ timeout: 20_000 });
  type Summary = { summary: { crosses: { doses: number }[] } };
  const doses = async () =>
    (await asked<Summary>(server, 'bench-summary', { bench_day: stock.day })).summary.crosses.reduce(
      (sum, each) => sum + each.doses,
      0,
    );
  expect(await doses()).toBe(2);

  // Sent away: at once, in words, with what it had not sent kept until it is let in again.
  await page.goto(`${server.url}/bench/devices`);
  await page.getByRole('button', { name: 'Send tablet at the bench away' }).click();
  await expect(page.getByText('None.')).toBeVisible();
  await press(tablet);
  await press(tablet);
  await expect(tablet.getByText('This device is not let in any more')).toBeVisible();
  await expect(tablet.getByText('unsent: 1')).toBeVisible();
  await tablet.screenshot({ path: '.out/pictures/board-sent-away.png' });
  expect(await doses()).toBe(2);
  await page.getByRole('button', { name: 'Show a code' }).click();
  const second = (await page.locator('.pair-code').textContent()) ?? '';
  await tablet.getByRole('link', { name: 'Ask to be let in' }).click();
  await tablet.getByLabel('The code shown there').fill(second.toLowerCase());
  await tablet.getByLabel('Name of this device').fill('tablet again');
  await tablet.getByRole('button', { name: 'Let it in' }).click();
  await expect(tablet.getByText('tablet again is let in')).toBeVisible();
  await expect.poll(doses, { timeout: 20_000 }).toBe(3);

  // Closed: nothing listens there any more.
  await page.getByRole('button', { name: 'Close it now' }).click();
  await expect(page.getByText('Closed: nobody on the network')).toBeVisible();
  await expect
    .poll(async () =>
      fetch(`${outside}/api/health`).then(
        () => 'answers',
        () => 'closed',
      ),
    )
    .toBe('closed');
  await tablet.context().close();
  await server.stop();
  removeFolder(folder);
});

test('labels for cages and rack slots are asked for in two numbers', async ({ page, server }) => {
  await benchStock(server);
  await page.goto(`${server.url}/bench/labels`);
  await expect(page.getByRole('link', { name: 'Print 92 to 115' })).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'bench-labels');
  const paper = await fetch(
    `${server.url}/api/paper/bench-labels?input=${encodeURIComponent('{"what":"cages","from":92,"to":115}')}`,
  );
  expect(paper.headers.get('content-type')).toBe('application/pdf');
});
