import { does, expect, expectAccessible, picture, test } from './support/journey.ts';

const spring = '2027-04-20T10:00:00+02:00[Europe/Berlin]';
const on = (day: string) => `?today=${day}`;

/** A cross of an invented station: drone mother R-07 heads a colony in the Mill yard. */
async function planCross(server: Parameters<typeof does>[0]) {
  const yard = await does(server, 'record-yard', { name: 'Mill yard', walking_order: 1 });
  const colony = await does(server, 'record-colony', { colony: { code: 'M 4', form: 'full' }, yard: yard.id });
  const queen = (code: string, more: object = {}) =>
    does(server, 'record-queen', { queen: { code, emerged: '2026-08-20' }, ...more }, { done: spring });
  const dam = await queen('26-014');
  const mother = await queen('R-07', { stands: { colony: colony.id } });
  const cross = { code: 'B', queens_wanted: 12, dose_ul: 8, inseminate_on: '2027-06-12' };
  const input = { cross, dams: [dam.id], drone_sources: [{ queen: mother.id }] };
  return does(server, 'plan-cross', input, { done: spring });
}

test('Today opens with three doors, then shows work by yard, ticked by one press', async ({ page, server }) => {
  await page.goto(`${server.url}/today${on('2027-04-20')}`);
  await expect(page.getByRole('heading', { name: 'Bring my spreadsheet' })).toBeVisible();
  await expect(page.getByRole('link', { name: 'Answer four questions' })).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'today-doors');

  await planCross(server);
  await page.goto(`${server.url}/today${on('2027-04-26')}`);
  await expect(page.getByRole('heading', { name: 'Mill yard' })).toBeVisible();
  await expect(page.getByText('Bring: drone comb')).toBeVisible();
  await page.getByRole('button', { name: 'Done: Hang the drone comb' }).click();
  await expect(page.getByText('done Mon 26 Apr')).toBeVisible();
  await page.getByRole('button', { name: 'not done' }).click();
  await expect(page.getByRole('button', { name: 'Done: Hang the drone comb' })).toBeVisible();

  // Nothing done until a busy day: late tasks are still there, barred, first.
  await page.goto(`${server.url}/today${on('2027-06-11')}`);
  await expect(page.getByRole('heading', { name: /late/ })).toBeVisible();
  await expect(page.getByText('46 days late')).toBeVisible();
  await expect(page.getByText('I B')).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'today-late');

  await page.keyboard.press('n');
  await page.getByLabel('What is to be done').fill('Order glass tips');
  await page.getByRole('button', { name: 'Keep this task' }).click();
  await expect(page.getByText('Order glass tips')).toBeVisible();
});
