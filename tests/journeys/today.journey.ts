import { does, expect, expectAccessible, expectNoSidewaysScrolling, picture, test } from './support/journey.ts';

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

test('a worry is settled with a word; an act a device could not do is let go', async ({ page, server }) => {
  const { id: dam } = await does(server, 'record-queen', { queen: { code: '24-031', emerged: '2024-06-01' } });
  const { id: mother } = await does(server, 'record-queen', { queen: { code: 'K-12', emerged: '2024-06-01' } });
  await does(server, 'record-fate', { queen: dam, kind: 'died', happened_on: '2026-05-01' }, { done: spring });
  const past = { code: 'P', queens_wanted: 3, dose_ul: 8, inseminate_on: '2026-06-20' };
  const input = { cross: past, dams: [dam], drone_sources: [{ queen: mother }] };
  await does(server, 'plan-cross', input, { done: spring, happened: true });
  const lost = { name: 'do-task', input: { tasks: ['01960000-0000-7000-8000-000000000000'] }, done: spring };
  const replayed = await fetch(`${server.url}/api/acts`, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify([{ id: '01960000-0000-7000-8000-000000000001', ...lost }]),
  });
  expect(await replayed.json()).toMatchObject([{ outcome: 'parked' }]);

  await page.goto(`${server.url}/today${on('2027-04-20')}`);
  await expect(page.getByRole('heading', { name: 'One open worry' })).toBeVisible();
  await expect(page.getByRole('heading', { name: 'One act of a device waits' })).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'today-worries');
  await expect(page.getByText('24-031 cannot be grafted from')).toBeVisible();
  await page.getByRole('button', { name: 'Settle it' }).click();
  await page.getByLabel('How was it settled?').fill('entered from the old book');
  await page.getByRole('button', { name: 'Settle it' }).click();
  await expect(page.getByRole('heading', { name: 'One open worry' })).toBeHidden();
  await page.getByRole('button', { name: 'Do it now' }).click();
  await expect(page.getByText('It still cannot be done')).toBeVisible();
  await page.getByRole('button', { name: 'Let it go' }).click();
  await page.getByLabel('How was it settled?').fill('that task was stepped back');
  await page.getByRole('button', { name: 'Settle it' }).click();
  await expect(page.getByRole('heading', { name: 'One act of a device waits' })).toBeHidden();
});

test('every page of Today, Crosses and Rearing fits 320 px, and is readable under the lamp', async ({
  page,
  server,
}) => {
  const { id } = await planCross(server);
  const paths = [
    'today',
    'crosses',
    'crosses/new',
    'crosses/start',
    'crosses/choose',
    'rearing',
    'rearing/season',
    'rearing/virgins',
    'rearing/profiles',
  ];
  const leaves = [`crosses/${id}`, `rearing/countback/${id}`, 'rearing/graft/new', 'rearing/comb/new'];
  await page.setViewportSize({ width: 320, height: 700 });
  await page.addInitScript(() => localStorage.setItem('combwright.theme', 'lamp'));
  for (const path of [...paths, ...leaves]) {
    await page.goto(`${server.url}/${path}${on('2027-05-24')}`);
    await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
    await expectNoSidewaysScrolling(page, path);
    await expectAccessible(page);
  }
  await page.setViewportSize({ width: 1024, height: 800 });
  await page.goto(`${server.url}/rearing/countback/${id}${on('2027-05-24')}`);
  await expect(page.getByText('It takes 2 combs')).toBeVisible();
  await page.screenshot({ path: '.out/pictures/countback-lamp.png' });
});
