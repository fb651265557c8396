import type { Page } from '@playwright/test';
import { messySheet } from '../../support/messy-sheet.ts';
import type { Running } from '../../support/running-server.ts';
import { expect } from './journey.ts';

/** Brings the messy sheet of 200 rows into an empty book, mending its three rows and the mother that is not in it. */
export async function bringSheet(page: Page, server: Running, look: (name: string) => Promise<void>): Promise<void> {
  const { text, slips } = messySheet();
  await page.goto(`${server.url}/stock/import?today=2027-02-01`);
  await page
    .getByLabel('Open a file …')
    .setInputFiles({ name: 'stock book.csv', mimeType: 'text/csv', buffer: Buffer.from(text, 'latin1') });
  await page.getByRole('radio', { name: 'disc number' }).check();
  await page.getByRole('radio', { name: /the drone mother: the sons of/ }).check();
  await page.getByRole('textbox', { name: /queens without an end were seen alive/ }).fill('1.11.2026');
  await expect(page.getByText('3 rows must be settled.')).toBeVisible();
  await look('season-1-import');
  const row = (n: number) => page.getByRole('listitem').filter({ hasText: `Row ${n},` });
  await row(slips.impossibleDay).getByRole('textbox').fill('30/06/2025');
  await page.keyboard.press('Enter');
  await row(slips.codeTwice).getByRole('textbox').fill('26-901/1');
  await page.keyboard.press('Enter');
  await row(slips.olderThanMother).getByRole('button', { name: 'Keep as a note' }).click();
  await expect(page.getByText('Nothing stands in the way.')).toBeVisible();
  await row(slips.unknownMother)
    .getByRole('button', { name: /^rather 24-/ })
    .click();
  await expect(page.getByText('Mended so far')).toBeVisible();
  await page.getByRole('button', { name: 'Bring in 200 queens' }).click();
  await expect(page.getByRole('heading', { name: 'Your table is in the book' })).toBeVisible();
}
