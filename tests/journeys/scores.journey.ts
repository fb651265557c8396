import { does, expect, expectAccessible, picture, test, widths } from './support/journey.ts';
import { after, yardStock } from './support/yard-stock.ts';

test('score cards in the yard: a visit, scales in words, tests begun and counted, whose it is, step back', async ({
  page,
  server,
}) => {
  const stock = await yardStock(server);
  await does(server, 'record-person', { name: 'Mara' });
  await does(server, 'score-colony', {
    colony: stock.nucs[0],
    day: '2028-05-02',
    readings: [{ trait: 'gentleness', value: 3 }],
  });
  await page.goto(`${server.url}/yard/scores?today=2028-05-20`);
  await page.getByLabel('Scored by').selectOption('Mara');
  await page.getByRole('radio', { name: 'windy' }).check();
  await expect(page.getByText('In windy weather bees are worse tempered than they are.')).toBeVisible();
  await page.getByRole('button', { name: 'Brood test with a pin' }).click();
  await page.getByRole('button', { name: 'Mites on bees' }).click();
  await expect(page.getByText('Alcohol burns: no smoker or flame near it')).toBeVisible();
  for (const width of widths) {
    await page.setViewportSize({ width, height: 900 });
    await expectAccessible(page);
  }
  await picture(page, 'scores-visit');
  await page.getByRole('button', { name: 'Begin the visit' }).click();

  await expect(page.getByText('1 of 12 in Heath')).toBeVisible();
  await expect(page.getByText('3 on 2 May 2028')).toHaveCount(0);
  const steps = (trait: string, step: string) =>
    page.getByRole('group', { name: trait }).getByRole('button', { name: step, exact: true }).click();
  await steps('Gentleness', '4');
  await expect(page.getByText('No smoke and no veil needed.')).toBeVisible();
  await steps('Calmness on the comb', '3.5');
  const mites = page.getByRole('group', { name: 'Mites on bees' });
  await mites.getByLabel('Mites').fill('6');
  await mites.getByLabel('Bees').fill('120');
  await expect(mites.getByText('5 to 100 bees, likely 1.9 to 10.6')).toBeVisible();
  await expect(mites.getByText('Only 120 bees were washed.')).toBeVisible();
  await page.setViewportSize({ width: 390, height: 844 });
  const small = await page
    .locator('.score-card button.point')
    .evaluateAll((all) => all.map((each) => each.getBoundingClientRect()).filter(({ height }) => height < 56.5).length);
  expect(small, 'steps lower than 15 mm').toBe(0);
  for (const width of widths) {
    await page.setViewportSize({ width, height: 900 });
    await expectAccessible(page);
  }
  await picture(page, 'scores-card');
  const pin = page.getByRole('group', { name: 'Brood cleared, pin' });
  await pin.getByLabel('Capped cells in the test').fill('50');
  await pin.getByLabel('Cells empty before it').fill('2');
  await page.getByRole('button', { name: 'Keep this card' }).click();

  await expect(page.getByRole('heading', { name: 'N-01: kept today' })).toBeVisible();
  await expect(page.getByText('Before: 3 on 2 May 2028')).toBeVisible();
  await expect(page.getByText('Counts for 27-001.')).toBeVisible();
  await page.getByRole('button', { name: 'Judge it' }).click();
  await page.getByRole('button', { name: 'partly hers' }).click();
  await expect(page.getByText('Does not count for 27-001, as you judged.')).toBeVisible();
  await picture(page, 'scores-kept');
  await expectAccessible(page);
  await page.getByRole('button', { name: 'leave it to the rule' }).click();
  await expect(page.getByText('Counts for 27-001.')).toBeVisible();

  await page.getByRole('button', { name: 'Next nuc' }).first().click();
  await expect(page.getByText('2 of 12 in Heath')).toBeVisible();
  await page.getByRole('button', { name: 'Not judged …' }).click();
  await page.getByRole('button', { name: 'too weak' }).click();
  await page.getByRole('button', { name: 'Keep this card' }).click();
  await expect(page.getByText('Not judged: too weak').first()).toBeVisible();
  await page.getByRole('button', { name: /Step back/ }).click();
  await expect(page.getByRole('heading', { name: 'N-02: kept today' })).toHaveCount(0);

  await page.goto(`${server.url}/yard/scores?today=2028-05-21`);
  await page.getByRole('button', { name: 'Begin the visit' }).click();
  await expect(page.getByText('a test to count')).toBeVisible();
  await page.getByLabel('Cells empty now').fill('60');
  await page.getByRole('button', { name: 'Keep the count' }).click();
  await expect(page.getByText('60 is more than the 52 cells there were. Count again.').first()).toBeVisible();
  await page.getByLabel('Cells empty now').fill('42');
  await expect(page.getByText(/80 in 100, likely 67 to 89/)).toBeVisible();
  await picture(page, 'scores-test');
  await page.getByRole('button', { name: 'Keep the count' }).click();
  await expect(page.getByRole('heading', { name: 'N-01: kept today' })).toBeVisible();
});

test('before the turnover a card says that it does not count for her yet', async ({ page, server }) => {
  await yardStock(server);
  await page.goto(`${server.url}/yard/scores?today=${after(20)}`);
  await page.getByRole('button', { name: 'Begin the visit' }).click();
  await expect(page.getByText(/Does not count for 27-001 yet: too few of these bees are her daughters/)).toBeVisible();
});
