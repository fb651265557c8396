import type { Page } from '@playwright/test';
import type { Running } from '../support/running-server.ts';
import { does, expect, expectAccessible, picture, test } from './support/journey.ts';

const spring = '2027-04-20T10:00:00+02:00[Europe/Berlin]';
const on = (day: string) => `?today=${day}`;

/** An invented stock: two dams, two drone mothers, one of them the daughter of a dam. */
async function stock(server: Running) {
  const line = await does(server, 'record-line', { name: 'Alder' });
  const queen = async (code: string, more: object = {}, about: object = {}) =>
    (
      await does(
        server,
        'record-queen',
        { queen: { code, emerged: '2026-08-20', ...more }, ...about },
        { done: spring },
      )
    ).id;
  const founder = await queen('24-031', { emerged: '2024-06-01', line: line.id });
  const dam = await queen('26-014', { dam: founder, line: line.id }, { mark: { colour: 'white', disc: 14 } });
  const other = await queen('26-020', { line: line.id }, { mark: { colour: 'white', disc: 20 } });
  const drone = await queen('R-07', {}, { mark: { colour: 'white', disc: 7 } });
  const sister = await queen('R-09', { dam: founder });
  return { founder, dam, other, drone, sister };
}

/** Chooses a record in one of the boxes that open a list. */
async function choose(page: Page, label: string, code: string): Promise<void> {
  const box = page.getByRole('combobox', { name: label });
  await box.click();
  await box.fill(code);
  await page.getByRole('option', { name: code }).click();
  await page.keyboard.press('Escape');
}

test('a first cross in four answers shows its real days at once', async ({ page, server }) => {
  await page.goto(`${server.url}/today${on('2027-04-20')}`);
  await page.getByRole('link', { name: 'Answer four questions' }).click();
  await expect(page.getByRole('heading', { name: 'Start with one cross' })).toBeVisible();
  await page.getByRole('textbox', { name: 'On which day do you inseminate?' }).fill('12.6.');
  await expect(page.getByText('Sun 23 May')).toBeVisible();
  await page.getByLabel('How many queens?').fill('12');
  await page.getByRole('combobox', { name: 'Queen mother' }).fill('24-031');
  await page.getByRole('combobox', { name: 'Drone mother' }).fill('K-12');
  await expectAccessible(page);
  await picture(page, 'cross-start');
  await page.getByRole('button', { name: 'Keep it and count back' }).click();
  await expect(page.getByRole('heading', { name: 'Cross A' })).toBeVisible();
  await expect(page.getByRole('heading', { name: 'Tasks' })).toBeVisible();
  await expect(page.getByText('Sat 12 Jun').first()).toBeVisible();
});

test('a day that cannot be reached is refused with one that can, and what was typed stays', async ({
  page,
  server,
}) => {
  await page.goto(`${server.url}/crosses/start${on('2027-04-20')}`);
  await page.getByRole('textbox', { name: 'On which day do you inseminate?' }).fill('15 May');
  await page.getByRole('combobox', { name: 'Queen mother' }).fill('24-031');
  await page.getByRole('combobox', { name: 'Drone mother' }).fill('K-12');
  await page.getByRole('button', { name: 'Keep it and count back' }).click();
  await expect(page.getByText('The earliest day is').first()).toBeVisible();
  await expect(page.getByRole('combobox', { name: 'Queen mother' })).toHaveValue('24-031');
  await picture(page, 'cross-start-refused');
  await page.getByLabel('Mature drones are there already').check();
  await page.getByRole('button', { name: 'Keep it and count back' }).click();
  await expect(page.getByRole('heading', { name: 'Cross A' })).toBeVisible();
});

test('choose on the bench, plan from the grid, change, print and give up a cross', async ({ page, server }) => {
  const made = await stock(server);
  await page.goto(`${server.url}/crosses${on('2027-04-20')}`);
  await expect(page.getByText('Crosses answers who is mated with whom')).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'crosses-empty');

  await page.getByRole('link', { name: 'Choose', exact: true }).click();
  await page.getByRole('button', { name: '26-014 on the queen side' }).click();
  await page.getByRole('button', { name: '26-020 on the queen side' }).click();
  await page.getByRole('button', { name: 'R-07 on the drone side' }).click();
  await page.getByRole('button', { name: 'R-09 on the drone side' }).click();
  const grid = page.getByRole('grid');
  // Sisters whose dam mated openly with 12 drones: (1/4 + 1/2/12) / 4 = 0.073 for the daughters of one with drones of the other.
  await expect(grid.getByRole('gridcell', { name: '0.073' })).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'crosses-choosing');

  // Arrow keys walk the cells; Enter plans the pair: 26-014 (first dam) with R-07 (first drone mother).
  await grid.getByRole('gridcell').first().focus();
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('Enter');
  await expect(page.getByRole('heading', { name: 'Plan a cross' })).toBeVisible();
  await expect(page.getByLabel('Code (needed)')).toHaveValue('A');
  await expect(page.getByText('of 100 brood cells live')).toBeVisible();
  await page.getByRole('textbox', { name: 'Insemination day' }).fill('12 Jun');
  await page.getByLabel('What it is for').fill('Gentle bees for the lower yard');
  await choose(page, 'For the queen side', '26-020');
  await expectAccessible(page);
  await picture(page, 'cross-plan');
  await page.getByRole('button', { name: 'Keep this cross' }).click();

  await expect(page.getByRole('heading', { name: 'Cross A' })).toBeVisible();
  await expect(page.getByText('Gentle bees for the lower yard')).toBeVisible();
  await expect(page.getByText('of 100 brood cells live')).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'cross-leaf');

  // The dam dies: the cross says so, and the list too; she is swapped for her stand-in.
  const fate = { queen: made.dam, kind: 'died', happened_on: '2027-04-19' };
  await does(server, 'record-fate', fate, { done: spring });
  await expect(page.getByText('gone Mon 19 Apr')).toBeVisible();
  await page.keyboard.press('e');
  const damChosen = page.getByRole('list', { name: 'Chosen for Queen mothers' });
  await expect(damChosen.getByText('gone')).toBeVisible();
  await damChosen.getByRole('button', { name: 'Take 26-014 out' }).click();
  await choose(page, 'Queen mothers', '26-020');
  await page.getByRole('button', { name: 'Keep the change' }).click();
  await expect(page.getByRole('heading', { name: 'Cross A' })).toBeVisible();
  await expect(page.getByText('gone Mon 19 Apr')).toBeHidden();

  await page.goto(`${server.url}/crosses`);
  await expect(page.getByText('in 53 days')).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'crosses');
  await page.getByRole('link', { name: 'A', exact: true }).click();
  await page.getByRole('button', { name: 'Give it up' }).click();
  await expect(page.getByText('This cross was given up.')).toBeVisible();
  await page.keyboard.press('Control+z');
  await expect(page.getByRole('button', { name: 'Give it up' })).toBeVisible();
});
