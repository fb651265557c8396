import type { Page } from '@playwright/test';
import type { Running } from '../support/running-server.ts';
import { does, expect, test } from './support/journey.ts';

const at = (day: string) => ({ done: `${day}T10:00:00+02:00[Europe/Berlin]`, happened: true });
const TODAY = '2027-06-10';

/** A station two days before its insemination day: a comb, a bar, three virgins in nucs. */
async function station(server: Running) {
  const yard = (await does(server, 'record-yard', { name: 'Mill yard', walking_order: 1 })).id;
  const colony = (await does(server, 'record-colony', { colony: { code: 'M 4', form: 'full' }, yard })).id;
  const born = { emerged: '2026-08-20' };
  const dam = (await does(server, 'record-queen', { queen: { code: '26-014', ...born } }, at('2027-04-01'))).id;
  const mother = (
    await does(server, 'record-queen', { queen: { code: 'R-07', ...born }, stands: { colony } }, at('2027-04-01'))
  ).id;
  const cross = { code: 'B', queens_wanted: 12, dose_ul: 8, inseminate_on: '2027-06-12' };
  const { id } = await does(
    server,
    'plan-cross',
    { cross, dams: [dam], drone_sources: [{ queen: mother }] },
    at('2027-04-20'),
  );
  const comb = {
    code: 'R-07 a',
    mother,
    cross: id,
    colony,
    in_on: '2027-04-26',
    laid_from: '2027-04-28',
    laid_to: '2027-05-02',
  };
  await does(server, 'record-drone-comb', comb, at('2027-05-02'));
  const graft = { code: 'bar 1', day: '2027-05-23', cross: id };
  const ranges = [{ position_from: 1, position_to: 20, dam }];
  const bar = (await does(server, 'record-graft', { graft, ranges }, at('2027-05-23'))).id;
  const late = { code: 'bar 2', day: '2027-06-01' };
  await does(server, 'record-graft', { graft: late, ranges }, at('2027-06-01'));
  const virgins = [1, 2, 3].map((position) => ({ position, code: `27-00${position}` }));
  await does(server, 'emerge-virgins', { graft: bar, virgins, on: '2027-06-04' }, at('2027-06-04'));
  return id;
}

/** Follows links one after another from Today; each is one step. Two at most. */
async function steps(page: Page, server: Running, links: readonly string[]) {
  expect(links.length).toBeLessThanOrEqual(2);
  await page.goto(`${server.url}/today?today=${TODAY}`);
  for (const name of links) await page.getByRole('link', { name, exact: false }).first().click();
}

test('the questions of rearing that must be answered in five seconds: each in at most two steps from Today', async ({
  page,
  server,
}) => {
  await station(server);
  const seen = async (words: string | RegExp) => expect(page.getByText(words).first()).toBeVisible();

  // What is due today and tomorrow, in which yard: no step.
  await steps(page, server, []);
  await expect(page.getByRole('heading', { name: 'Mill yard' })).toBeVisible();
  await seen(/Trial: evert ten drones/);
  // On which dates are drones of R-07 usable, and whose are ripe for a graft today: one step.
  await steps(page, server, ['Rearing']);
  await expect(page.getByRole('row', { name: /R-07 a/ })).toContainText('Sat 5 Jun to Wed 16 Jun');
  await seen(/Grafted today, queens are of the best age/);
  // Which bar holds which mother's cells, and the first day a queen may be out: one step.
  await expect(page.getByRole('row', { name: /bar 2/ })).toContainText('26-014');
  await expect(page.getByRole('row', { name: /bar 2/ })).toContainText('Sat 12 Jun');
  // How many drones for 12 queens: two steps.
  await steps(page, server, ['Rearing', 'Cross B']);
  await seen('mature drones on the day');
  // Which virgins are of age on Saturday and where they stand; who had no carbon dioxide: two steps.
  await steps(page, server, ['Rearing', 'Virgins and carbon dioxide']);
  await seen('27-003');
  await seen('3 of 3 had no carbon dioxide yet');
});
