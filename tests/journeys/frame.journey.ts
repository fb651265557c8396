import { does, expect, expectAccessible, picture, test } from './support/journey.ts';

test('find, history, keys and stepping back are at the edge of every page', async ({ page, server }) => {
  const { id } = await does(server, 'record-queen', { queen: { code: '26-014', emerged: '2026-05-20' } });
  await page.goto(`${server.url}/history`);
  await expect(page.getByRole('heading', { name: 'History' })).toBeVisible();
  await expect(page.getByRole('cell', { name: 'wrote down a queen' })).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'history');
  await page.keyboard.press('/');
  await page.keyboard.type('26014');
  await expect(page.getByRole('option', { name: '26-014' })).toBeVisible();
  await page.keyboard.press('Escape');
  await page.goto(`${server.url}/history/${id}`);
  await page.getByRole('button', { name: 'Step back' }).click();
  await expect(page.getByText('stepped back').first()).toBeVisible();
  await page.keyboard.press('?');
  await expect(page.getByRole('dialog')).toBeVisible();
  await expectAccessible(page);
});
