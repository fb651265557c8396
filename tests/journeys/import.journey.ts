import { messySheet } from '../support/messy-sheet.ts';
import { expect, expectAccessible, picture, test } from './support/journey.ts';

const sheet = messySheet();
const windows1252 = (text: string) => Buffer.from(text, 'latin1');

test('a messy spreadsheet of 200 rows is rehearsed, mended, brought in, looked at, and stepped back', async ({
  page,
  server,
}) => {
  await page.goto(`${server.url}/stock?today=2027-02-01`);
  await expect(page.getByText('Here stands every queen')).toBeVisible();
  await picture(page, 'stock-empty');
  await expectAccessible(page);

  await page.getByRole('link', { name: 'Bring my spreadsheet' }).click();
  await picture(page, 'import-1-file');
  await expectAccessible(page);
  await page
    .getByLabel('Open a file …')
    .setInputFiles({ name: 'stock book.csv', mimeType: 'text/csv', buffer: windows1252(sheet.text) });

  // The columns are guessed, the two questions that matter are asked.
  await expect(page.getByLabel('Meaning of Mother')).toHaveValue('dam');
  await expect(page.getByLabel('Meaning of Mated with')).toHaveValue('drones');
  await expect(page.getByText('read as windows-1252, cells parted by semicolons.')).toBeVisible();
  await picture(page, 'import-2-columns');
  await expectAccessible(page);
  await page.getByRole('radio', { name: 'disc number' }).check();
  await page.getByRole('radio', { name: /the drone mother: the sons of/ }).check();
  await page.getByRole('textbox', { name: /queens without an end were seen alive/ }).fill('1.11.2026');

  // What does not fit is named by row; the main button says what is missing.
  const bring = page.getByRole('button', { name: /Bring in 20\d queens/ });
  await expect(page.getByText('3 rows must be settled.')).toBeVisible();
  await bring.press('Enter');
  await expect(page.getByRole('heading', { name: 'Bring a spreadsheet' })).toBeVisible();
  await picture(page, 'import-3-rehearsal');
  await expectAccessible(page);

  const row = (n: number) => page.getByRole('listitem').filter({ hasText: `Row ${n},` });
  const { slips } = sheet;
  await row(slips.impossibleDay).getByRole('textbox').fill('30/06/2025');
  await page.keyboard.press('Enter');
  await expect(page.getByText('2 rows must be settled.')).toBeVisible();
  await row(slips.codeTwice).getByRole('textbox').fill('26-901/1');
  await page.keyboard.press('Enter');
  await expect(page.getByText('One row must be settled.')).toBeVisible();
  await row(slips.olderThanMother).getByRole('button', { name: 'Keep as a note' }).click();
  await expect(page.getByText('Nothing stands in the way.')).toBeVisible();
  await row(slips.unknownMother)
    .getByRole('button', { name: /^rather 24-/ })
    .click();
  await expect(page.getByText('Mended so far')).toBeVisible();

  await page.getByRole('button', { name: 'Bring in 200 queens' }).click();
  await expect(page.getByRole('heading', { name: 'Your table is in the book' })).toBeVisible();
  await picture(page, 'import-4-done');
  await page.getByRole('link', { name: 'To the stock book' }).click();

  // The stock book, and a descent leaf of four generations.
  await expect(page.getByRole('table', { name: 'The stock book' })).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'stock-book');
  await page.getByLabel('Code or dam has').fill('26-901');
  await page.getByRole('link', { name: '26-901' }).click();
  await expect(page.getByRole('group', { name: 'Descent of 26-901' })).toBeVisible();
  await expect(page.getByText('several brothers').first()).toBeVisible();
  await picture(page, 'queen-leaf');
  await expectAccessible(page);

  // One act: one step back takes all of it out again.
  await page.goto(`${server.url}/history`);
  await expect(page.getByRole('cell', { name: 'brought in a spreadsheet' })).toBeVisible();
  await page.getByRole('button', { name: 'Step back' }).first().click();
  await expect(page.getByText('stepped back').first()).toBeVisible();
  await page.goto(`${server.url}/stock?today=2027-02-01`);
  await expect(page.getByText('Here stands every queen')).toBeVisible();
});

test('what cannot be read says why, and pasted cells are a table too', async ({ page, server }) => {
  await page.goto(`${server.url}/stock/import?today=2027-02-01`);
  const open = (name: string, buffer: Buffer) =>
    page.getByLabel('Open a file …').setInputFiles({ name, mimeType: 'application/octet-stream', buffer });
  await open('broken.csv', Buffer.from('Queen;Mother\n26-1;"A\n26-2;B\n'));
  await expect(page.getByText('A quotation mark opens at')).toBeVisible();
  await expectAccessible(page);
  await page.getByRole('button', { name: 'Take another file' }).click();
  await open('old.xls', Buffer.from([0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1]));
  await expect(page.getByText('This is a workbook of an older kind')).toBeVisible();
  await page.getByRole('button', { name: 'Take another file' }).click();

  await page.getByLabel('Or paste cells from your spreadsheet').fill('Queen\tMother\n26-001\t\n26-002\t26-001\n');
  await page.getByRole('button', { name: 'Use what is pasted' }).click();
  await expect(page.getByText('Every row fits.')).toBeVisible();
  // What was said so far survives a reload.
  await page.getByLabel('Meaning of Mother').selectOption('line');
  await page.reload();
  await expect(page.getByLabel('Meaning of Mother')).toHaveValue('line');
  await page.getByLabel('Meaning of Mother').selectOption('dam');
  await page.getByRole('button', { name: 'Bring in 2 queens' }).click();
  await expect(page.getByRole('heading', { name: 'Your table is in the book' })).toBeVisible();
});
