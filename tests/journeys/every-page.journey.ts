/**
 * Every page there is, over a book whose words try to be programs: shown as words, no finding of the accessibility rules
 * (WCAG 2.2 A, AA), no sideways scrolling, and every control reached by the Tab key.
 */
import { readdirSync, readFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import type { Running } from '../support/running-server.ts';
import { type Addressed, addressOf, hostileBook } from './support/hostile-book.ts';
import { expect, expectAccessible, expectNoSidewaysScrolling, test } from './support/journey.ts';

/** Addresses of all pages, as they are written in the lists of the places. */
const patterns = readdirSync('src/screens', { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('pages.tsx'))
  .flatMap((file) => {
    const text = readFileSync(`src/screens/${file}`, 'utf8');
    return [...text.matchAll(/path: '(\/[^']*)',\s*component/g)].map(([, path]) => path as string);
  })
  .sort();

/** Marks every control that can be used now, then walks with Tab until the walk begins again; says who was not reached. */
async function notReached(page: Page): Promise<string[]> {
  const count = await page.evaluate(() => {
    const usable = 'a[href], button, input, select, textarea, [tabindex], summary, [role=button]';
    const shown = [...document.querySelectorAll<HTMLElement>(usable)].filter(
      (each) =>
        each.checkVisibility({ visibilityProperty: true, opacityProperty: true }) &&
        !each.matches(':disabled, [aria-disabled=true], [aria-hidden=true] *, [inert] *') &&
        each.getAttribute('tabindex') !== '-1' &&
        each.getClientRects().length > 0,
    );
    shown.forEach((each, n) => {
      each.setAttribute('data-walk', String(n));
    });
    (document.activeElement as HTMLElement | null)?.blur();
    return shown.length;
  });
  const reached = new Set<string>();
  for (let presses = 0, again = 0; presses < count * 2 + 20 && again < 3 && reached.size < count; presses++) {
    await page.keyboard.press('Tab');
    // a control that says it cannot be used now is a stop of the walk too, but none that must be reached
    const at = await page.evaluate(() => {
      const { activeElement: on, body } = document;
      return on === null || on === body ? null : (on.getAttribute('data-walk') ?? '');
    });
    if (at === null) again++;
    else if (at !== '') reached.add(at);
  }
  // One of a set of radio buttons, tabs or choices is a stop; arrows go on from it.
  return page.evaluate(
    (seen) => {
      const set = '[role=radiogroup], [role=tablist], [role=listbox], [role=grid], [role=group], fieldset';
      const isSeen = (each: HTMLElement) => seen.includes(each.getAttribute('data-walk') ?? '');
      const bySet = (each: HTMLElement) => {
        const name = (each as HTMLInputElement).name;
        const isRadio = each.matches('input[type=radio]');
        const others = isRadio
          ? document.querySelectorAll<HTMLElement>(`input[type=radio][name="${CSS.escape(name)}"]`)
          : [];
        const within = each.matches('[role=radio], [role=tab], [role=option], [role=row], [role=gridcell]')
          ? (each.closest(set)?.querySelectorAll<HTMLElement>('[data-walk]') ?? [])
          : [];
        return [...others, ...within].some(isSeen);
      };
      return [...document.querySelectorAll<HTMLElement>('[data-walk]')]
        .filter((each) => !isSeen(each) && !bySet(each))
        .map((each) => each.outerHTML.slice(0, 140));
    },
    [...reached],
  );
}

async function lookAt(page: Page, server: Running, address: string): Promise<void> {
  await page.setViewportSize({ width: 1440, height: 900 });
  await page.goto(`${server.url}${address}`);
  await expect(page.getByRole('heading').first()).toBeVisible();
  await expect(page.getByText('Looking it up')).toHaveCount(0);
  await expect(page.getByRole('heading', { name: 'No such page' })).toHaveCount(0);
  await expectAccessible(page);
  expect(await page.evaluate(() => 'spiked' in window), `${address} ran what it should show`).toBe(false);
  expect(await page.locator('img[src="x"]').count(), `${address} made a picture of words`).toBe(0);
  expect(await notReached(page), `not reached by Tab on ${address}`).toEqual([]);
  for (const width of [320, 390, 820]) {
    await page.setViewportSize({ width, height: 844 });
    await expectNoSidewaysScrolling(page, address);
  }
}

const places = [...new Set(patterns.map((pattern) => pattern.split('/')[1] as string))];

test('no page is forgotten', () => {
  expect(patterns.length).toBeGreaterThan(40);
});

for (const place of places) {
  test.describe(place, () => {
    test.describe.configure({ timeout: 300_000 });

    test('shows words as words, has no finding, and every control is reached by Tab', async ({ page, server }) => {
      const ids: Addressed = await hostileBook(server);
      const wrong: string[] = [];
      page.on('pageerror', (error) => wrong.push(`${page.url()}: ${error.message}`));
      page.on('console', (said) => {
        if (said.type() === 'error') wrong.push(`${page.url()}: ${said.text()}`);
      });
      for (const pattern of patterns.filter((each) => each.split('/')[1] === place))
        await lookAt(page, server, addressOf(pattern, ids)).catch((error: Error) => {
          expect.soft(error.message.slice(0, 1500), pattern).toBe('');
        });
      expect(wrong).toEqual([]);
    });
  });
}
