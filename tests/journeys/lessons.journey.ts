import { does, expect, expectAccessible, picture, test } from './support/journey.ts';

const at = (day: string) => ({ happened: true, done: `${day}T10:00:00+02:00[Europe/Berlin]` });

test('before anything is known, Lessons says what it will answer', async ({ page, server }) => {
  await page.goto(`${server.url}/bench/lessons?today=2027-06-12`);
  await expect(page.getByText('No queen is inseminated yet')).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'lessons-empty');
});

test('sixty queens by tip: small numbers stay small, a funnel, a run line, open ends counted', async ({
  page,
  server,
}) => {
  test.slow();
  const dam = (await does(server, 'record-queen', { queen: { code: '25-020' } }, at('2027-05-01'))).id;
  const people: string[] = [];
  for (const name of ['Mira', 'Tadek', 'Oda']) people.push((await does(server, 'record-person', { name })).id);
  const plan = {
    cross: { code: 'B', queens_wanted: 60, dose_ul: 8, inseminate_on: '2027-06-12' },
    dams: [dam],
    drone_sources: [{ queen: dam }],
    drones_there: true,
    virgins_there: true,
  };
  const cross = (await does(server, 'plan-cross', plan, at('2027-06-01'))).id;
  // Tip 1 gets every queen that fails by drone caps or is lost; tip 6 only three queens.
  for (let n = 0; n < 60; n++) {
    const day = `2027-06-${12 + Math.floor(n / 15) * 3}`;
    const code = `27-${String(n + 1).padStart(3, '0')}`;
    const queen = (await does(server, 'record-queen', { queen: { code, emerged: '2027-06-04', dam } }, at(day))).id;
    const tip = n >= 57 ? 6 : 1 + (n % 5);
    const dose = { cross, queen, draws: [], microlitres: 8, tip, operator: people[n % 3] };
    const bench =
      n % 15 === 0 ? (await does(server, 'open-bench-day', { day, zone: 'Europe/Berlin' }, at(day))).id : '';
    if (bench !== '') days.set(day, bench);
    await does(server, 'give-dose', { ...dose, bench_day: days.get(day) }, at(day));
    if (n % 20 === 7) continue;
    const sight = tip === 1 && n % 10 === 0 ? 'drone-caps' : tip === 1 && n % 10 === 5 ? 'queen-gone' : 'worker-caps';
    await does(server, 'check-laying', { queen, sights: [sight], day: '2027-07-12' }, at('2027-07-12'));
  }
  await page.goto(`${server.url}/bench/lessons?today=2027-08-01`);
  await page.getByRole('combobox', { name: 'Part the queens by' }).selectOption('tip');
  await expect(page.getByText('45 of 57 lay. 3 more are not known yet.')).toBeVisible();
  await expect(page.getByText('Tip 1: 0 of 12. All others: 45 of 45. Luck alone hardly does this.')).toBeVisible();
  await expect(page.getByText('Tip 6: 3 of 3 (fewer than 5, not compared)')).toBeVisible();
  await expect(page.getByText(/^Tip 1 lies outside the band/)).toBeVisible();
  await expect(page.getByText(/^Tip 1: signal at queen 3/)).toBeVisible();
  await page.setViewportSize({ width: 1440, height: 5200 });
  await expectAccessible(page);
  await picture(page, 'lessons-sixty');
  // The plots are walked by keyboard, and every point has its name in counts.
  const point = page.getByRole('group', { name: /outside the band/ }).getByRole('link', { name: 'tip 1: 0 of 12' });
  await point.focus();
  await page.keyboard.press('Enter');
  await expect(page.locator('#behind-1')).toHaveAttribute('open', '');
  await expect(page.locator('#behind-1').getByText('does not lay')).toHaveCount(12);
});

/** Bench days made so far, by day. */
const days = new Map<string, string>();
