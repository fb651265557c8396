import { AxeBuilder } from '@axe-core/playwright';
import { test as base, expect, type Page } from '@playwright/test';
import { freshFolder, type Running, removeFolder, startServer } from '../../support/running-server.ts';

/** The three widths every page is looked at. */
export const widths = [390, 820, 1440] as const;

type Fixtures = { server: Running };

/** A test with a server of its own on a fresh, empty data folder. */
export const test = base.extend<Fixtures>({
  // biome-ignore lint/correctness/noEmptyPattern: Playwright reads the fixtures it needs from this pattern
  server: async ({}, use) => {
    const folder = freshFolder();
    const server = await startServer(folder);
    await use(server);
    await server.stop();
    removeFolder(folder);
  },
});
export { expect };

/** The page fits its window once it stands still: a list that is open is put under its box again a moment after the window changes. */
export async function expectNoSidewaysScrolling(page: Page, what: string): Promise<void> {
  const tooWide = () =>
    page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  const width = page.viewportSize()?.width;
  await expect.poll(tooWide, `${what} at ${width} px, pixels it scrolls sideways`).toBeLessThanOrEqual(0);
}

/** Keeps a picture of the page at each width under .out/pictures; the window is 1440 wide afterwards. */
export async function picture(page: Page, name: string): Promise<void> {
  await expect(page.getByText('Looking it up')).toHaveCount(0);
  for (const width of widths) {
    await page.setViewportSize({ width, height: width < 500 ? 844 : 900 });
    await page.evaluate(() => scrollTo(0, 0));
    await page.screenshot({ path: `.out/pictures/${name}-${width}.png`, fullPage: true });
    await expectNoSidewaysScrolling(page, name);
  }
  await forTheGuide(page, name, { width: 1100, height: 760 });
  await page.setViewportSize({ width: 1440, height: 900 });
}

/** Keeps a picture of the window as it is, and as the guide shows it. */
export async function windowPicture(page: Page, name: string): Promise<void> {
  await page.screenshot({ path: `.out/pictures/${name}.png` });
  await forTheGuide(page, name);
}

/** With COMBWRIGHT_PICTURES naming a folder (`npm run pictures`), keeps what the guide in docs/ shows: one window, not the whole page. */
async function forTheGuide(page: Page, name: string, size?: { width: number; height: number }): Promise<void> {
  const folder = process.env.COMBWRIGHT_PICTURES;
  if (folder === undefined) return;
  if (size !== undefined) await page.setViewportSize(size);
  await page.evaluate(() => scrollTo(0, 0));
  await page.screenshot({ path: `${folder}/${name}.png` });
}

/** A window so tall that the line at the foot covers nothing of a page: what it covers by chance is no finding. */
const TALL = 12_000;

/** No finding of the accessibility rules (WCAG 2.2 A and AA) on the page as it is. */
export async function expectAccessible(page: Page): Promise<void> {
  const size = page.viewportSize();
  if (size !== null) await page.setViewportSize({ width: size.width, height: TALL });
  const { violations } = await new AxeBuilder({ page })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'])
    .analyze();
  if (size !== null) await page.setViewportSize(size);
  const said = violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 120)).join(' | ')}`);
  expect(said, page.url()).toEqual([]);
}

/** Does one act over HTTP, to make what a journey starts from. */
export async function does(server: Running, name: string, input: unknown, more: object = {}): Promise<{ id: string }> {
  const response = await fetch(`${server.url}/api/act/${name}`, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify({ input, ...more }),
  });
  const body = (await response.json()) as { result?: { id: string }; problems?: unknown };
  if (body.result === undefined) throw new Error(`${name}: ${JSON.stringify(body.problems)}`);
  return body.result;
}
