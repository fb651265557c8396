/** What a day at the bench costs, counted on a real board: actuations a queen, touches, and wrong pairs among the right ones. */
import type { Page } from '@playwright/test';
import { press, shownDone } from './bench-chromium.ts';

/** A label carried past a reader that types: its keys come at once, made in the page. */
export async function present(page: Page, text: string): Promise<void> {
  await page.evaluate((label) => {
    for (const key of [...label, 'Enter']) {
      const told = { key, code: `reader ${key}`, bubbles: true, cancelable: true };
      document.body.dispatchEvent(new KeyboardEvent('keydown', told));
    }
  }, text);
  await page.waitForTimeout(90);
}

/** Begins to count what a finger or mouse does on the page. */
export const countTouches = (page: Page) =>
  page.evaluate(() => {
    const own = window as Window & { touches?: number };
    own.touches = 0;
    window.addEventListener('pointerdown', () => (own.touches = (own.touches ?? 0) + 1), true);
  });
export const touches = (page: Page) => page.evaluate(() => (window as Window & { touches?: number }).touches ?? 0);

const GIVE_UP = 9;

/** Presses until one more queen is done, told for each queen. With `cage`, her cage is carried past the reader before and after. */
export async function actuations(page: Page, queens: number, cage?: (n: number) => string): Promise<number[]> {
  const all: number[] = [];
  for (let i = 0; i < queens; i++) {
    const before = await shownDone(page);
    if (cage !== undefined) await present(page, cage(before + 1));
    let presses = 0;
    while ((await shownDone(page)) === before && presses < GIVE_UP) {
      await press(page);
      presses++;
    }
    all.push(presses);
    if (cage !== undefined) await present(page, cage(before + 1));
  }
  return all;
}

/** A board that says nothing of a wrong pair for so long has not stopped it, and a false stop has come by then, also on a busy machine. */
const SAID_BY = 5_000;
const SETTLES = 300;

/** Presents so many labels, every tenth of another cross; how many of these were stopped, and how many others. */
export async function presentations(
  page: Page,
  many: number,
  { right, wrong }: { right: (i: number) => string; wrong: string },
): Promise<{ stopped: number; falseStops: number; wrongPairs: number }> {
  const stop = page.getByRole('alertdialog');
  let stopped = 0;
  let falseStops = 0;
  let wrongPairs = 0;
  const takeAway = async () => {
    await page.keyboard.press('1');
    await stop.waitFor({ state: 'hidden' });
  };
  const falseStop = async () => {
    if (!(await stop.isVisible())) return;
    falseStops++;
    await takeAway();
  };
  for (let i = 0; i < many; i++) {
    if (i % 10 !== 7) {
      await present(page, right(i));
      await falseStop();
      continue;
    }
    wrongPairs++;
    await page.waitForTimeout(SETTLES);
    await falseStop();
    await present(page, wrong);
    const isStopped = await stop.waitFor({ timeout: SAID_BY }).then(
      () => true,
      () => false,
    );
    if (!isStopped) continue;
    stopped++;
    await takeAway();
  }
  await page.waitForTimeout(SETTLES);
  await falseStop();
  return { stopped, falseStops, wrongPairs };
}
