import type { Page } from '@playwright/test';
import type { BenchSummary } from '../../src/questions/bench/bench-summary.ts';
import { percentile } from '../support/bench-chromium.ts';
import { actuations, countTouches, presentations, touches } from '../support/bench-effort.ts';
import type { Running } from '../support/running-server.ts';
import { asked, benchStock, present, press } from './support/bench-stock.ts';
import { expect, test } from './support/journey.ts';

const board = (page: Page) => page.getByRole('region', { name: 'Bench board' });
const summaryOf = async (server: Running, day: string): Promise<BenchSummary> =>
  (await asked<{ summary: BenchSummary }>(server, 'bench-summary', { bench_day: day })).summary;
const acts = async (server: Running): Promise<string[]> =>
  (await asked<{ acts: { what: string }[] }>(server, 'history', {})).acts.map(({ what }) => what);

/** One key, as slowly as a finger: a label reader is told apart by its speed. */
async function key(page: Page, ...keys: string[]): Promise<void> {
  for (const each of keys) {
    await page.keyboard.press(each);
    await page.waitForTimeout(110);
  }
}

/** Walks with Tab alone until the focus is on what is called so, and presses Enter. */
async function tabTo(page: Page, name: RegExp): Promise<void> {
  for (let i = 0; i < 250; i++) {
    await page.keyboard.press('Tab');
    const focused = await page.evaluate(() => {
      const on = document.activeElement;
      return `${on?.getAttribute('aria-label') ?? ''} ${on?.textContent ?? ''}`.trim();
    });
    if (name.test(focused)) return;
  }
  throw new Error(`no ${name} within 250 tabs`);
}

const doses = (summary: BenchSummary) => summary.crosses.reduce((sum, each) => sum + each.doses, 0);

test('every task of the bench by keyboard only: no mouse, no touch, from the set-out to the closed day', async ({
  page,
  server,
}) => {
  const stock = await benchStock(server);
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.goto(`${server.url}/bench/${stock.day}`);
  await expect(page.getByText('Carbon dioxide takes the air')).toBeVisible();
  await countTouches(page);
  await tabTo(page, /tips sterile/).catch(() => {});
  await tabTo(page, /To the board/);
  await page.keyboard.press('Enter');
  await expect(board(page)).toBeVisible();

  await press(page);
  await key(page, '1');
  await press(page);
  await key(page, 'f');
  await key(page, 't', 'l', 's', 's', 'v', 'v', 'r');
  // Queen 2: half a microlitre more, gas, code and mark, the reason from the list.
  await press(page);
  await key(page, '+', 'g');
  await page.getByRole('dialog').waitFor();
  await page.keyboard.type('4', { delay: 110 });
  await key(page, 'Enter');
  await expect(page.getByRole('dialog')).toBeHidden();
  await key(page, 'm');
  await page.getByRole('dialog').waitFor();
  await page.keyboard.type('27-102', { delay: 110 });
  await key(page, 'Enter');
  await expect(page.getByRole('dialog')).toBeHidden();
  await key(page, '0');
  await page.getByRole('dialog').waitFor();
  await key(page, '1');
  await press(page);
  // Queen 3: not done. Queen 4: chosen by her cage, typed. Then the next tube, a pause, a step back.
  await key(page, 'n');
  await page.getByRole('dialog').waitFor();
  await key(page, '4');
  await key(page, 'Enter');
  await page.getByRole('dialog').waitFor();
  await page.keyboard.type('cage 4', { delay: 110 });
  await key(page, 'Enter');
  await expect(board(page).locator('.board-plate')).toContainText('27-004');
  await key(page, 'c', 'p');
  await press(page);
  await press(page);
  await expect(board(page)).toContainText('Last: 27-004');
  await key(page, 'Backspace');
  await expect(board(page)).toContainText('Press again to step back');
  await page.waitForTimeout(450);
  await key(page, 'Backspace');
  await expect(board(page)).toContainText('Last: 27-102');
  await page.waitForTimeout(450);
  await press(page);
  await expect(board(page)).toContainText('4 of 12');
  // A cage of another cross, typed: stopped, taken away.
  await key(page, 'Enter');
  await page.getByRole('dialog').waitFor();
  await page.keyboard.type('91', { delay: 110 });
  await key(page, 'Enter');
  await page.getByRole('alertdialog').waitFor();
  await key(page, '1');
  // Queen 1 back in.
  await key(page, 'Enter');
  await page.getByRole('dialog').waitFor();
  await page.keyboard.type('cage 1', { delay: 110 });
  await key(page, 'Escape');
  await key(page, '?');
  await page.getByRole('dialog').waitFor();
  await key(page, 'Escape', 'o');
  await page.getByRole('dialog').waitFor();
  await key(page, 'Escape');
  for (let i = 0; i < 16; i++) await press(page);
  await expect(board(page)).toContainText('12 of 12');
  await expect.poll(async () => doses(await summaryOf(server, stock.day))).toBe(11);
  const done = await acts(server);
  for (const what of [
    'give-dose',
    'add-exception',
    'not-done',
    'note-at-bench',
    'give-co2',
    'mark-at-bench',
    'step-back',
  ])
    expect(done, what).toContain(what);

  await key(page, 'Escape');
  await expect(page).toHaveURL(new RegExp(`/bench/${stock.day}$`));
  await tabTo(page, /Put the bench away/);
  await page.keyboard.press('Enter');
  await expect(page.getByRole('heading', { name: 'Put the bench away' })).toBeVisible();
  await tabTo(page, /Close the day/);
  await page.keyboard.press('Enter');
  await expect(page.getByText('This day was put away')).toBeVisible();
  expect(await touches(page)).toBe(0);
});

test('by touch alone, as on a tablet without keys: a dose changed, an exception, gas, a queen chosen', async ({
  page,
  server,
}) => {
  const stock = await benchStock(server);
  await page.setViewportSize({ width: 820, height: 1180 });
  await page.goto(`${server.url}/bench/${stock.day}/board/${stock.crossB}`);
  await expect(board(page)).toBeVisible();
  const touched = (name: string | RegExp) => board(page).getByRole('button', { name }).click();
  const panel = page.getByRole('dialog');
  const plate = async () => {
    await page.locator('.board-plate').click({ delay: 120 });
    await page.waitForTimeout(430);
  };
  await plate();
  await expect(board(page).locator('.board-plate')).toContainText('Give 8.0 µl to 27-001');
  await touched(/Menu/);
  await panel.getByRole('button', { name: 'half a microlitre less' }).click();
  await expect(board(page).locator('.board-plate')).toContainText('Give 7.5 µl to 27-001');
  await touched(/Menu/);
  await panel.getByRole('button', { name: 'gas for this queen' }).click();
  await panel.getByRole('textbox').fill('2 min');
  await panel.getByRole('button', { name: 'Given' }).click();
  await expect(panel.getByRole('alert')).toContainText('“2 min” cannot be meant here');
  await panel.getByRole('textbox').fill('2');
  await panel.getByRole('button', { name: 'Given' }).click();
  await expect(panel).toBeHidden();
  await touched(/Other/);
  await panel.getByRole('button', { name: 'bubble' }).click();
  await plate();
  await expect(board(page)).toContainText('Last: 27-001, 7.5 µl: bubble.');
  await touched(/Menu/);
  await panel.getByRole('button', { name: 'choose a cage, queen or tube' }).click();
  await expect(panel).toBeVisible();
  await page.screenshot({ path: '.out/pictures/board-touch-choose.png' });
  await panel.getByRole('button', { name: /27-003/ }).click();
  await expect(board(page).locator('.board-plate')).toContainText('27-003');
  const queens = (await summaryOf(server, stock.day)).crosses.find(({ code }) => code === 'B')?.queens ?? [];
  expect(queens[0]).toMatchObject({ given: 7.5, exceptions: [{ kind: 'bubble' }] });
});

test('a day by one pedal only: every queen, a step back, a pause, and the next tube when one is empty', async ({
  page,
  server,
}) => {
  const stock = await benchStock(server);
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.goto(`${server.url}/bench/${stock.day}/board/${stock.crossB}`);
  await expect(board(page)).toBeVisible();
  await countTouches(page);
  for (let i = 0; i < 4; i++) await press(page);
  await expect(board(page)).toContainText('Last: 27-002');
  await press(page, 1_700);
  await press(page);
  await expect(board(page)).toContainText('Last: 27-001');
  for (let i = 0; i < 21; i++) await press(page);
  await expect(board(page)).toContainText('12 of 12');
  await press(page);
  await expect.poll(async () => doses(await summaryOf(server, stock.day))).toBe(12);
  const { crosses, worries } = await summaryOf(server, stock.day);
  const tubes = crosses.flatMap(({ queens }) => queens).flatMap(({ draws }) => draws.map(({ tube }) => tube));
  // 52 µl are six doses and a half: the seventh overdraws, as a worry to settle; the eighth comes from the next tube.
  expect(tubes.filter((tube) => tube === 'C-07')).toHaveLength(7);
  expect(tubes.filter((tube) => tube === 'C-08')).toHaveLength(5);
  expect(worries.map(({ code }) => code)).toContain('tube-overdrawn');
  expect(await touches(page)).toBe(0);
});

test('spoken words: understood on the device alone, and said when it cannot', async ({ page, server }) => {
  const stock = await benchStock(server);
  await page.setViewportSize({ width: 1280, height: 800 });
  const open = async () => {
    await page.goto(`${server.url}/bench/${stock.day}/board/${stock.crossB}`);
    await expect(board(page)).toBeVisible();
    await page.waitForTimeout(300);
    await page.keyboard.press('h');
  };
  await page.addInitScript(() => Reflect.deleteProperty(window, 'SpeechRecognition'));
  await open();
  await expect(page.getByText('cannot understand speech by itself')).toBeVisible();
  // A device that can: a stand-in for its recognition, told what to have heard.
  await page.addInitScript(() => {
    class Ear {
      processLocally = false;
      onresult: ((event: object) => void) | null = null;
      static available = async () => 'available';
      start() {
        Object.assign(window, {
          heard: (transcript: string, confidence = 0.9) => {
            if (!this.processLocally) throw new Error('the sound would leave the device');
            this.onresult?.({ resultIndex: 0, results: [{ isFinal: true, 0: { transcript, confidence } }] });
          },
        });
      }
      abort() {}
    }
    Object.assign(window, { SpeechRecognition: Ear });
  });
  await open();
  await expect(page.getByText('Listening: next')).toBeVisible();
  const hear = async (words: string, sure = 0.9) => {
    await page.evaluate(
      ([said, confidence]) => (window as unknown as { heard(w: string, c: number): void }).heard(said, confidence),
      [words, sure] as const,
    );
    await page.waitForTimeout(450);
  };
  await hear('next');
  await hear('the leak of yesterday');
  await hear('dead', 0.3);
  await hear('leak');
  await hear('dose 7.5');
  await hear('next');
  await expect(board(page)).toContainText('Last: 27-001, 7.5 µl');
  await hear('dead');
  await expect(board(page).locator('.board-plate')).toContainText('27-003');
  const of = (await summaryOf(server, stock.day)).crosses.find(({ code }) => code === 'B')?.queens ?? [];
  expect(of[0]?.exceptions.map(({ kind }) => kind)).toEqual(['leak']);
  expect(of[1]).toMatchObject({ done: false, why: 'dead' });
});

test('counted: presses a queen with a reader and without; 200 labels with 20 wrong pairs, 20 stopped, none falsely', async ({
  page,
  server,
}) => {
  const stock = await benchStock(server);
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.goto(`${server.url}/bench/${stock.day}/board/${stock.crossB}`);
  await expect(board(page)).toBeVisible();
  await countTouches(page);
  const found = await presentations(page, 200, { right: (i) => String(1 + (i % 12)), wrong: '91' });
  expect(found).toEqual({ stopped: 20, falseStops: 0, wrongPairs: 20 });
  const withReader = await actuations(page, 4, String);
  const without = await actuations(page, 4);
  expect(withReader).toEqual([1, 1, 1, 1]);
  expect(percentile(without, 0.5)).toBe(2);
  expect(percentile([...withReader, ...without], 0.95)).toBeLessThanOrEqual(4);
  expect(await touches(page)).toBe(0);
  await present(page, '9');
  await expect(board(page)).toContainText('8 of 12');
});
