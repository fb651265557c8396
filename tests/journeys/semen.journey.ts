import { asked, benchStock, DAY, daysFromNow, press } from './support/bench-stock.ts';
import { does, expect, expectAccessible, expectNoSidewaysScrolling, picture, test } from './support/journey.ts';

type Leaf = { leaf: { left: number; condemned: boolean; mothers: { name: string }[] } };

test('an empty rack teaches; drones are tallied with the foot into two tubes; the rack shows them to length', async ({
  page,
  server,
}) => {
  const make = async (name: string, input: unknown) => (await does(server, name, input, { happened: true })).id;
  await make('record-queen', { queen: { code: 'M-07' } });
  await make('record-queen', { queen: { code: 'N-03' } });
  await page.goto(`${server.url}/semen`);
  await expect(page.getByText('Here lies every tube')).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'rack-empty');
  await page.keyboard.press('n');
  await expect(page.getByRole('heading', { name: 'Tally drones' })).toBeVisible();
  await page.getByRole('combobox', { name: 'Drones of (1)' }).fill('M-07');
  await page.getByRole('option', { name: /M-07/ }).click();
  await page.getByLabel('Taken').fill('40');
  await page.getByLabel('Left over').fill('8');
  await page.getByLabel('Code of a new tube').fill('C-07');
  await page.getByLabel('Inner bore').fill('0,8');
  await page.getByRole('button', { name: 'Another tube' }).click();
  const second = page.getByRole('group', { name: 'Tube 2' });
  await second.getByLabel('Code of a new tube').fill('C-08');
  await second.getByLabel('Inner bore').fill('0.8');

  // Counting with the foot: a press = gave; a reason by digit; a hold and a press take the last one back.
  await page.getByRole('button', { name: 'Count at the bench' }).click();
  const counting = page.getByRole('region', { name: 'Count at the bench' });
  for (let i = 0; i < 4; i++) await press(page);
  await page.keyboard.press('2');
  await page.keyboard.press('c');
  for (let i = 0; i < 3; i++) await press(page);
  await expect(counting).toContainText('7');
  await page.keyboard.down('Space');
  await page.waitForTimeout(1_700);
  await page.keyboard.up('Space');
  await expect(counting).toContainText('press again to take the last one back');
  await page.waitForTimeout(450);
  await press(page);
  await expect(counting.locator('.counted')).toContainText('6');
  await expect(counting).toContainText('mucus 1');
  // The wrong digit would condemn the tube: the same step back takes it back.
  await page.keyboard.press('1');
  await expect(counting).toContainText('Faeces got into this tube');
  await page.keyboard.press('Backspace');
  await expect(counting).toContainText('press again to take the last one back: faeces');
  // Within 0.4 s of the offer nothing is taken, after 3 s it has lapsed and is made again.
  await expect(async () => {
    await page.waitForTimeout(600);
    await page.keyboard.press('Backspace');
    await expect(counting).not.toContainText('Faeces got into this tube', { timeout: 1_500 });
  }).toPass();
  await expect(counting.locator('.counted')).toContainText('6');
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.screenshot({ path: '.out/pictures/tally-counting.png' });
  await expectAccessible(page);
  // The browser is closed and opened again: nothing that was counted is lost.
  await page.reload();
  await expect(page.getByText('6', { exact: true }).first()).toBeVisible();
  await page.getByRole('group', { name: 'Tube 1' }).getByLabel('Reading after').fill('4,2');
  await page.getByRole('group', { name: 'Tube 2' }).getByLabel('Reading after').fill('2');
  await expect(page.getByText('That is 4.2 µl.')).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'tally');
  await page.getByRole('button', { name: 'Record this catch' }).click();

  await expect(page.getByRole('link', { name: /C-07/ })).toBeVisible();
  await expectAccessible(page);
  // Up and down walk the rack; Enter opens the story of a tube.
  await page.getByRole('link', { name: /C-07/ }).focus();
  await page.keyboard.press('ArrowDown');
  await expect(page.getByRole('link', { name: /C-08/ })).toBeFocused();
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('Enter');
  await expect(page.getByRole('heading', { name: 'C-07' })).toBeVisible();
  await expect(page.getByText('4.2 µl collected from 4 drones of M-07')).toBeVisible();
});

test('semen from another breeder: its age counts from the day it was collected, or is said to be at least what is known', async ({
  page,
  server,
}) => {
  const mother = await does(server, 'record-queen', { queen: { code: 'K-12' } }, { happened: true });
  await page.goto(`${server.url}/semen/receive`);
  await page.getByLabel('Code of a new tube').fill('X-1');
  await page.getByLabel('Volume').fill('30');
  await page.getByRole('textbox', { name: 'Collected on' }).fill(daysFromNow(-30));
  await page.getByLabel('Kept at').fill('14');
  await page.getByRole('combobox', { name: 'Drone mothers' }).fill('K-12');
  await page.getByRole('option', { name: /K-12/ }).click();
  await expectAccessible(page);
  await picture(page, 'semen-received');
  await page.getByRole('button', { name: 'Write it down' }).click();
  await expect(page.getByRole('heading', { name: 'X-1' })).toBeVisible();
  await expect(page.getByText('4 weeks old').first()).toBeVisible();
  await does(
    server,
    'receive-semen',
    { tube: { code: 'X-2' }, sources: [{ mother: mother.id }], microlitres: 20 },
    { happened: true },
  );
  await page.goto(`${server.url}/semen`);
  await expect(page.getByRole('link', { name: /X-2.*at least 0 hours old/ })).toBeVisible();
  await page.getByRole('link', { name: /X-2/ }).click();
  await expect(page.getByText('its sender does not say when it was collected')).toBeVisible();
});

test('the story of a tube: steps, a correction, what the next doses hold, what is known of its age', async ({
  page,
  server,
}) => {
  const stock = await benchStock(server);
  const tube = stock.tubes[0] ?? '';
  const leaf = async () => (await asked<Leaf>(server, 'tube-story', { tube })).leaf;
  await page.goto(`${server.url}/semen?today=${DAY}`);
  await expect(page.getByText('Promised and free')).toBeVisible();
  await expect(page.getByText('crosses want 96.0 µl')).toBeVisible();
  await picture(page, 'rack');
  await page.goto(`${server.url}/semen/tube/${tube}`);
  await expect(page.getByText('52.0 µl = 6 doses')).toBeVisible();
  await page.getByLabel('Step', { exact: true }).selectOption('lost');
  await page.getByLabel('Volume').fill('2,5');
  await page.getByRole('button', { name: 'Write this step' }).click();
  await expect(page.getByText('2.5 µl lost', { exact: true })).toBeVisible();
  await expect.poll(async () => (await leaf()).left).toBe(49.5);
  // Wrong: it was 4. The line is corrected by another; the old one stays to be read.
  await page
    .getByRole('listitem')
    .filter({ hasText: '2.5 µl lost' })
    .filter({ has: page.getByRole('button') })
    .getByRole('button', { name: 'Correct' })
    .click();
  await page.getByRole('region', { name: 'Correct' }).getByLabel('Volume').fill('4');
  await page.getByRole('button', { name: 'Write the correction' }).click();
  await expect(page.getByText('(corrects an earlier line)')).toBeVisible();
  await expect.poll(async () => (await leaf()).left).toBe(48);
  // A step without its volume keeps what was typed and says what is missing.
  await page.getByLabel('Step', { exact: true }).selectOption('diluent');
  await page.getByRole('button', { name: 'Write this step' }).click();
  await expect(page.getByRole('alert')).toContainText('Nothing is written here');
  await expect(page.getByText('Is it alive?')).toBeVisible();
  await expect(page.getByText('Does it work in a queen?')).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'tube');
});

test('faeces condemn the tube and name every queen served from it since', async ({ page, server }) => {
  const stock = await benchStock(server);
  const [tube] = stock.tubes;
  const act = (name: string, input: unknown) => does(server, name, input, { happened: true });
  await act('tally-drones', {
    gave: 1,
    sources: [{ mother: stock.mother }],
    reasons: [{ reason: 'faeces', count: 1, into: 0 }],
    into: [{ tube, start: 52, end: 53 }],
  });
  await act('give-dose', {
    bench_day: stock.day,
    cross: stock.crossB,
    queen: stock.queens[4],
    draws: [{ tube, microlitres: 8 }],
  });
  await page.goto(`${server.url}/semen/tube/${tube}`);
  await expect(page.getByText('condemned: faeces got into it')).toBeVisible();
  await expect(page.getByRole('link', { name: '27-005' })).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'tube-condemned');
  await page.goto(`${server.url}/semen`);
  await expect(page.getByRole('link', { name: /C-07.*condemned/ })).toBeVisible();
});

test('laboratory arithmetic gives the published values', async ({ page, server }) => {
  await page.goto(`${server.url}/semen/laboratory`);
  // Open drone-sperm data: 172 counted in 0.04 µl of 500 µl are 2,150,000; exact Poisson interval (trade facts, worked examples).
  await expect(
    page.getByText('2\u2009150\u2009000 sperm; by counting alone between 1\u2009840\u2009690 and 2\u2009496\u2009413.'),
  ).toBeVisible();
  // Wilson interval of 168 of 200.
  await expect(page.getByText('168 of 200: 84.0 % alive, between 78.3 and 88.4 %.')).toBeVisible();
  // Geometry of a 0.5 mm bore.
  await expect(page.getByText('8 µl fill 40.74 mm.')).toBeVisible();
  // 11 g NaCl a litre are 188.2 mmol by its molar mass, not the 185 printed beside a recipe.
  await expect(page.getByRole('row', { name: /sodium chloride/ })).toContainText('188.2');
  await expect(page.getByText('Propidium iodide harms genes')).toBeVisible();
  // Of the same open data, a total that no whole count gives.
  await expect(page.getByText('172 sperm were counted.')).toBeVisible();
  await page.getByLabel('Total as reported').fill('2881500');
  await expect(page.getByText('No whole count gives this total (230.52).')).toBeVisible();
  // 10 in 90, then 50 in 50 µl.
  await page.getByRole('button', { name: 'One more step' }).click();
  await page.getByRole('group', { name: 'Step 2' }).getByLabel('Taken over').fill('50');
  await page.getByRole('group', { name: 'Step 2' }).getByLabel('Into so much diluent').fill('50');
  await expect(page.getByText('Thinned 20 times in all.')).toBeVisible();
  await page.getByLabel('Sperm counted').fill('0');
  await expect(page.getByText('0 sperm; by counting alone')).toBeVisible();
  await page.getByLabel('Code of this batch').fill('S-1');
  await page.getByRole('button', { name: 'Write this batch down' }).click();
  await expect(page.getByText('The batch is written down.')).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'laboratory');
});

test('nothing scrolls sideways at 320 px, and every page is found by its link', async ({ page, server }) => {
  const stock = await benchStock(server);
  await page.goto(`${server.url}/semen`);
  await page.getByRole('link', { name: 'Catches' }).click();
  await expect(page.getByRole('heading', { name: 'Catches' })).toBeVisible();
  await expect(page.getByText('M-07: 1.00 to 1.00 µl each in 2 catches')).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'catches');
  await page.setViewportSize({ width: 320, height: 700 });
  const paths = [
    '/semen',
    '/semen/catches',
    '/semen/tally',
    '/semen/new-tube',
    '/semen/receive',
    '/semen/laboratory',
    `/semen/tube/${stock.tubes[0]}`,
    '/bench',
    `/bench/${stock.day}`,
    `/bench/${stock.day}/paper`,
    `/bench/${stock.day}/put-away`,
  ];
  for (const path of paths) {
    await page.goto(`${server.url}${path}`);
    await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
    await page.waitForTimeout(250);
    await expectNoSidewaysScrolling(page, path);
  }
});
