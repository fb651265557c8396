import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { does, expect, expectAccessible, expectNoSidewaysScrolling, picture, test, widths } from './support/journey.ts';

test('score cards of a yard move dots and spreads; one number opens down to the records it rests on', async ({
  page,
  server,
}) => {
  await does(server, 'plant-sample', {});
  await page.goto(`${server.url}/yard/records`);
  await expect(page.getByRole('heading', { name: 'All seasons' })).toBeVisible();
  await expect(page.getByText('All yard-years hang together through dams or drone mothers.')).toBeVisible();
  for (const width of widths) {
    await page.setViewportSize({ width, height: 900 });
    await expectAccessible(page);
  }
  await picture(page, 'worth-seasons');

  await page.goto(`${server.url}/stock/worth`);
  await expect(page.getByText('Nothing is worked out yet.')).toBeVisible();
  await page.getByText('Variances taken as true').click();
  await page.getByRole('button', { name: 'Estimate them from my records' }).click();
  await expect(page.getByText('Your records cannot carry their own variances yet.')).toBeVisible({ timeout: 60_000 });
  // every estimate is kept with why it is refused, its standard errors, the profile of the link, and the proof of the same bits
  const estimates = page.getByRole('region', { name: 'Estimates from your own records' });
  await expect(estimates.getByLabel('Kept estimate').locator('option')).toHaveCount(6, { timeout: 30_000 });
  await estimates.getByLabel('Kept estimate').selectOption({ index: 2 });
  await expect(estimates.getByText('They are shown, not used')).toBeVisible();
  await expect(estimates.getByText(/records are too few to estimate variances/)).toBeVisible();
  await expect(estimates.locator('td.number', { hasText: '±' })).toHaveCount(5);
  await expect(estimates.locator('figure.plot circle').first()).toBeVisible();
  await estimates.getByRole('button', { name: 'Work this estimate out again' }).click();
  await expect(estimates.getByText('The same bits: both fingerprints agree.')).toBeVisible({ timeout: 60_000 });
  await expect(estimates.getByRole('button', { name: 'Take these as true' })).toHaveCount(0);
  for (const width of widths) {
    await page.setViewportSize({ width, height: 900 });
    await expectAccessible(page);
  }
  await picture(page, 'worth-choices');
  await page.getByRole('button', { name: 'Work it out' }).click();
  await expect(page.getByText('Worked out and kept.')).toBeVisible({ timeout: 30_000 });
  await expect(page.getByRole('heading', { name: 'The queens, best first' })).toBeVisible();
  await expect(page.getByText('Reliabilities are exact.')).toBeVisible();
  const rows = page.locator('.ranked');
  expect(await rows.count()).toBeGreaterThan(20);
  await page.getByLabel('Of', { exact: true }).selectOption('Honey');
  await expect(page.getByRole('region', { name: 'The queens, best first' })).toHaveAttribute('aria-busy', 'false');
  for (const width of widths) {
    await page.setViewportSize({ width, height: 900 });
    await expectAccessible(page);
  }
  await picture(page, 'worth-ranking');
  const first = await rows.first().getAttribute('aria-label');
  await rows.first().click();
  await expect(page.getByRole('heading', { name: /^What .* rests on$/ })).toBeVisible();
  await expect(page.getByText('This is the first run.')).toBeVisible();
  await expect(page.getByText('Together', { exact: true })).toBeVisible({ timeout: 30_000 });

  // Score cards of one yard: the best queen's colony is weighed once more, and poorly.
  const [, code] = /^Open (\S+):/.exec(first ?? '') ?? [];
  await page
    .getByRole('button', { name: new RegExp(`Readings ${code} `) })
    .first()
    .click();
  await expect(page.locator('.readings li').first()).toContainText('kg');
  const colony = await page.locator('.readings a').first().getAttribute('href');
  await does(server, 'score-colony', {
    colony: colony?.split('/').at(-1),
    readings: [{ trait: 'honey', method: 'weighed', value: 40 }],
  });
  await expect(page.getByText('The book has changed since this run.')).toBeVisible();
  await page.getByRole('button', { name: 'Work it out again', exact: true }).click();
  await expect(page.getByRole('heading', { name: /^What moved since the run of/ })).toBeVisible({ timeout: 30_000 });
  await page.getByLabel('Of', { exact: true }).selectOption('Honey');
  await expect(page.locator('.ranked .ghost').first()).toBeVisible({ timeout: 30_000 });
  const moved = page.locator('.ranked', { hasText: code ?? '' }).first();
  await expect(moved).not.toHaveAttribute('aria-label', first ?? '');
  if ((await moved.getAttribute('aria-expanded')) !== 'true') await moved.click();
  await expect(page.getByText(/^From .* to .* kg:$/)).toBeVisible();
  await page
    .getByRole('button', { name: new RegExp(`Readings ${code} `) })
    .first()
    .click();
  await expect(page.locator('.readings li').nth(1)).toContainText('40 kg');
  for (const width of widths) {
    await page.setViewportSize({ width, height: 900 });
    await expectAccessible(page);
  }
  await picture(page, 'worth-opened');

  // Approximate on request: every reliability says so, with how far it is off in this very stock.
  await page.getByText('What it is worked out from').click();
  await page.getByLabel('Reliabilities').selectOption('approximate, with their error told');
  await page.getByRole('button', { name: 'Work it out again', exact: true }).click();
  await expect(
    page.getByText(/approximate \(≈\)\. Checked on 24 queens of this stock: off by 0\.0/).first(),
  ).toBeVisible({
    timeout: 30_000,
  });
  await expect(page.locator('.ranked').first()).toHaveAttribute('aria-label', /reliability ≈ 0\./);
  await picture(page, 'worth-approximate');
  await expectAccessible(page);

  await page.getByRole('button', { name: 'Check it' }).click();
  await expect(page.getByText(/Fewer than 50 say nothing/)).toBeVisible();
  await page.getByRole('button', { name: 'Work this run out again' }).click();
  await expect(page.getByText('The same bits: both fingerprints agree.')).toBeVisible({ timeout: 30_000 });
  await expectAccessible(page);
});

test('what testers give more is taken out; open drones begin at a level of their own', async ({ page, server }) => {
  await does(server, 'plant-sample', {});
  await page.goto(`${server.url}/stock/worth`);
  await page.getByLabel('Let drones of open matings begin at a level of their own').check();
  const tester = page.getByLabel('Take out what each tester gives more or less');
  const untold = page.getByText(/^Testers cannot be told from yards/);
  await expect(tester.or(untold)).toBeVisible();
  if (await tester.isVisible()) await tester.check();
  await picture(page, 'worth-taken-out');
  await page.getByRole('button', { name: 'Work it out' }).click();
  await expect(page.getByText('Worked out and kept.')).toBeVisible({ timeout: 30_000 });
  await page.getByRole('button', { name: 'Work this run out again' }).click();
  await expect(page.getByText('The same bits: both fingerprints agree.')).toBeVisible({ timeout: 30_000 });
  await expectAccessible(page);
});

test('what cannot be is named before anything is worked out', async ({ page, server }) => {
  await page.goto(`${server.url}/stock/worth`);
  await expect(page.getByText('No season of scores counts yet.')).toBeVisible();
  await expectAccessible(page);
  await does(server, 'plant-sample', {});
  await page.reload();
  await page.getByText('Variances taken as true').click();
  await page.getByLabel('Worker part').first().fill('0.99');
  await expect(page.getByText(/These numbers cannot be: Gentleness/)).toBeVisible();
  await expect(page.getByRole('button', { name: 'Work it out' })).toBeDisabled();
  for (const path of ['/yard/records', '/stock/worth']) {
    await page.setViewportSize({ width: 320, height: 700 });
    await page.goto(`${server.url}${path}`);
    await page.waitForLoadState('networkidle');
    await expectNoSidewaysScrolling(page, path);
  }
});

/** A stock too large to be quick: twelve thousand queens of twenty years, tested twelve to a yard-year. */
const LARGE = 12_000;
const older = (i: number, step: number) => `Q${(i * step) % Math.max(500, i - 2000)}`;
const bornIn = (i: number) => 2000 + Math.floor((20 * i) / LARGE);
const queensFile = () =>
  [
    'queen,dam,born,mated_to,drones',
    ...Array.from({ length: LARGE }, (_, i) =>
      i < 500 ? `Q${i},,2000-06-01,,` : `Q${i},${older(i, 7919)},${bornIn(i) + 1}-06-01,${older(i, 10_007)},10`,
    ),
  ].join('\n');
const recordsFile = () =>
  [
    'queen,yard,year,honey',
    ...Array.from({ length: LARGE }, (_, i) => `Q${i},Yard ${i % 50},${bornIn(i) + 2},${20 + ((i * 7907) % 211) / 10}`),
  ].join('\n');

test('a large run is stopped: the page answers meanwhile, nothing is kept; begun again it is worked out, kept and opened', async ({
  page,
  server,
}) => {
  test.setTimeout(360_000);
  for (const [kind, text] of [
    ['stock', queensFile()],
    ['records', recordsFile()],
  ] as const) {
    const file = join(server.folder, `${kind}.csv`);
    writeFileSync(file, text);
    const book = join(server.folder, 'combwright.sqlite');
    execFileSync(process.execPath, ['dist/node/combwright.js', 'import', kind, file, '--db', book], {
      stdio: 'ignore',
    });
  }
  const runs = async () => (await (await fetch(`${server.url}/api/ask/worth-runs?input={}`)).json()) as unknown;
  await page.goto(`${server.url}/stock/worth`);
  await expect(page.getByText('Nothing is worked out yet.')).toBeVisible({ timeout: 90_000 });
  await page.getByRole('button', { name: 'Work it out' }).click();
  await expect(page.getByText(/^Working: step [234] of 4$/)).toBeVisible({ timeout: 90_000 });
  const choices = page.locator('details.worth-begin');
  await expect(choices).toHaveAttribute('open');
  await page.getByText('What it is worked out from').click();
  await expect(choices).not.toHaveAttribute('open', { timeout: 2000 });
  await expect(page.getByText(/^Working: step [234] of 4$/)).toBeVisible();
  await page.getByRole('button', { name: 'Stop' }).click();
  await expect(page.getByText('Stopped. Nothing was kept.')).toBeVisible({ timeout: 2000 });
  await expect(page.getByText(/^Working: step/)).toHaveCount(0);
  await page.waitForTimeout(3000);
  // two acts: the two files
  expect(await runs()).toMatchObject({ answer: { runs: [] }, seq: 2 });
  await expect(page.getByText('Nothing is worked out yet.')).toBeVisible();

  await page.getByRole('button', { name: 'Work it out' }).click();
  await expect(page.getByText('Worked out and kept.')).toBeVisible({ timeout: 120_000 });
  await expect(page.getByText('Reliabilities are exact.')).toBeVisible({ timeout: 60_000 });
  await page.locator('.ranked').first().click();
  await expect(page.getByText('Together', { exact: true })).toBeVisible({ timeout: 60_000 });
  expect(await runs()).toMatchObject({ answer: { runs: [{ what: 'worth' }] }, seq: 3 });
});

test('traits help each other by what they share; what cannot be is named and weakened', async ({ page, server }) => {
  await does(server, 'plant-sample', {});
  await page.goto(`${server.url}/stock/worth`);
  await page.getByRole('button', { name: 'Work it out' }).click();
  await expect(page.getByText('Worked out and kept.')).toBeVisible({ timeout: 30_000 });
  await page.getByText('What it is worked out from').click();
  await page.getByText('Variances taken as true').click();
  await page
    .getByLabel('Two traits')
    .selectOption({ label: 'Calmness on the comb and Honey, Bienefeld and Pirchner 1991' });
  await page.getByRole('button', { name: 'Add this pair' }).click();
  const pair = page.getByRole('group', { name: 'Calmness on the comb and Honey' });
  await expect(pair.getByLabel('Worker sides')).toHaveValue('0.36');
  for (const width of widths) {
    await page.setViewportSize({ width, height: 900 });
    await expectAccessible(page);
  }
  await picture(page, 'worth-pairs');
  await pair.getByLabel('Worker sides').fill('0.99');
  await pair.getByLabel('Queen sides').fill('-0.9');
  await expect(page.getByText(/These cannot be: Calmness on the comb and Honey/)).toBeVisible();
  await expect(page.getByRole('button', { name: 'Work it out again', exact: true })).toBeDisabled();
  await picture(page, 'worth-pairs-cannot');
  await page.getByRole('button', { name: 'Weaken them that far' }).click();
  await expect(page.getByText(/These cannot be/)).toHaveCount(0);
  // published: worker and queen sides go together, crossed against each other, which nearly cancels; without the crossed ones honey weighs
  await pair.getByLabel('From').selectOption('Bienefeld and Pirchner 1991');
  await expect(pair.getByLabel('Worker sides')).toHaveValue('0.36');
  for (const crossed of await pair.getByLabel(/^Worker side of|^Queen side of/).all()) await crossed.fill('0');
  await page.getByRole('button', { name: 'Work it out again', exact: true }).click();
  await expect(page.getByRole('heading', { name: /^What moved since the run of/ })).toBeVisible({ timeout: 30_000 });
  await page.getByLabel('Of', { exact: true }).selectOption('Calmness on the comb');
  await expect(page.getByRole('region', { name: 'The queens, best first' })).toHaveAttribute('aria-busy', 'false');
  await page.locator('.ranked').first().click();
  // honey weighs in the worth of calmness: by the choices alone it moved
  await expect(page.getByText('Together', { exact: true })).toBeVisible({ timeout: 30_000 });
  const cause = (name: string) => page.locator('.opened dl.now > div', { hasText: name }).locator('dd');
  await expect(cause('records')).toHaveText('0.00');
  await expect(cause('choices')).not.toHaveText('0.00');
});

test('two traits estimated together show what they share, with how sure it is and what is meant', async ({
  page,
  server,
}) => {
  await does(server, 'plant-sample', {});
  await page.goto(`${server.url}/stock/worth`);
  await expect(page.locator('.trait-row')).toHaveCount(6);
  for (const row of await page.locator('.trait-row').all()) {
    const isKept = /Honey|Gentleness/.test((await row.textContent()) ?? '');
    await row.getByRole('checkbox').setChecked(isKept);
  }
  await page.getByText('Variances taken as true').click();
  await page.getByLabel('all together, with what they share').check();
  await page.getByRole('button', { name: 'Estimate them from my records' }).click();
  const estimates = page.getByRole('region', { name: 'Estimates from your own records' });
  const pair = estimates.getByRole('row', { name: /(Honey and Gentleness|Gentleness and Honey)/ });
  await expect(pair).toBeVisible({ timeout: 120_000 });
  await expect(pair.locator('td.number', { hasText: '±' })).toHaveCount(5);
  await expect(estimates.getByText(/delta method/)).toBeVisible();
  for (const width of widths) {
    await page.setViewportSize({ width, height: 900 });
    await expectAccessible(page);
  }
  await picture(page, 'worth-estimate-pairs');
});
