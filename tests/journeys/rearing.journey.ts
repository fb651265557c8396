import ICAL from 'ical.js';
import type { Running } from '../support/running-server.ts';
import { does, expect, expectAccessible, picture, test } from './support/journey.ts';

const on = (day: string) => `?today=${day}`;
const at = (day: string) => `${day}T10:00:00+02:00[Europe/Berlin]`;

async function planned(server: Running) {
  const yard = await does(server, 'record-yard', { name: 'Mill yard', walking_order: 1 });
  const colony = await does(server, 'record-colony', { colony: { code: 'M 4', form: 'full' }, yard: yard.id });
  const queen = async (code: string, more: object = {}) =>
    (
      await does(
        server,
        'record-queen',
        { queen: { code, emerged: '2026-08-20' }, ...more },
        { done: at('2027-04-20') },
      )
    ).id;
  const dam = await queen('26-014');
  const other = await queen('26-020');
  const mother = await queen('R-07', { stands: { colony: colony.id } });
  const cross = { code: 'B', queens_wanted: 12, dose_ul: 8, inseminate_on: '2027-06-12' };
  const input = { cross, dams: [dam], drone_sources: [{ queen: mother }] };
  const { id } = await does(server, 'plan-cross', input, { done: at('2027-04-20') });
  return { cross: id, dam, other, mother, colony: colony.id };
}

type Entry = { uid: string; summary: string; starts: string; ends: string; sequence: number; status: string };

/** The entries of a calendar file as an independent reader (ical.js) sees them. */
function entriesOf(text: string): Entry[] {
  const calendar = new ICAL.Component(ICAL.parse(text));
  return calendar.getAllSubcomponents('vevent').map((event) => {
    const read = new ICAL.Event(event);
    return {
      uid: read.uid,
      summary: read.summary,
      starts: read.startDate.toString(),
      ends: read.endDate.toString(),
      sequence: read.sequence,
      status: String(event.getFirstPropertyValue('status')),
    };
  });
}

async function calendar(server: Running, cross: string): Promise<string> {
  const input = encodeURIComponent(JSON.stringify({ cross, today: '2027-05-01' }));
  const response = await fetch(`${server.url}/api/paper/countback-calendar?input=${input}`);
  expect(response.status).toBe(200);
  expect(response.headers.get('content-type')).toContain('text/calendar');
  return response.text();
}

test('a cross counted back: lanes, tasks on Today, a moved day, and a calendar that moves with it', async ({
  page,
  server,
}) => {
  const { cross } = await planned(server);
  await page.goto(`${server.url}/rearing/countback/${cross}${on('2027-05-01')}`);
  await expect(page.getByText('of the best age together from Thu 10 Jun to Sun 13 Jun')).toBeVisible();
  await expect(page.getByText('Graft 26 larvae')).toBeVisible({ timeout: 15_000 });
  await expect(page.getByText('Hang 2 combs')).toBeVisible();
  await expect(page.getByText('What costs most: larvae not accepted.')).toBeVisible();
  await page.getByText('19 in 20', { exact: true }).click();
  await expect(page.getByText('Graft 30 larvae')).toBeVisible({ timeout: 15_000 });
  await page.getByText('9 in 10', { exact: true }).click();
  await page.getByText('The plain sum for drones').click();
  await expect(page.getByText('231 mature drones on the day')).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'countback');
  const before = entriesOf(await calendar(server, cross));
  const graft = before.find(({ summary }) => summary.startsWith('Graft'));
  expect(graft).toMatchObject({ starts: '2027-05-23', ends: '2027-05-24', sequence: 0, status: 'CONFIRMED' });

  // A task ticked on Today stays done when the day moves.
  await page.goto(`${server.url}/today${on('2027-05-01')}`);
  await page.getByRole('button', { name: 'Done: Hang the drone comb' }).click();
  await expect(page.getByText('done Sat 1 May')).toBeVisible();

  const row = (words: string) => page.locator('.task', { hasText: words });

  // A day later by the key ], first as a ghost, kept with Enter.
  await page.goto(`${server.url}/rearing/countback/${cross}`);
  await expect(page.getByRole('heading', { name: 'Tasks' })).toBeVisible();
  await page.keyboard.press(']');
  await expect(page.getByText('to Mon 24 May')).toBeVisible();
  // What the move does stands there before it is kept: chances beside those of now, tasks that move and are late.
  const does_ = page.getByRole('table', { name: 'What this move does' });
  await expect(does_.getByRole('row', { name: /Queens ready, 12 wanted/ })).toContainText('of 20 seasons');
  await expect(does_.getByRole('row', { name: /Doses of R-07, 12 wanted/ })).toContainText('of 20 seasons');
  await expect(does_.getByRole('row', { name: /What gives first/ })).toBeVisible();
  await expect(page.getByText(/^\d+ tasks move with it\.$/)).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'countback-ghost');
  // A day so near that a comb should have hung long ago: said, with the tasks late already.
  for (let i = 0; i < 24; i++) await page.keyboard.press('[');
  await expect(does_.getByRole('row', { name: /Late already/ })).toContainText(/[3-6] tasks/);
  await expect(page.getByText('Late already then:')).toContainText('Look for eggs in the drone comb.');
  await expect(page.getByText(/Drone eggs should have been laid \d+ days ago\. The earliest day is/)).toBeVisible();
  await expect(page.getByText('No drones are on the way for that day.')).toBeVisible();
  await picture(page, 'countback-near');
  await page.keyboard.press('Escape');
  await expect(does_).toBeHidden();
  await page.keyboard.press(']');
  await expect(page.getByText('to Mon 24 May')).toBeVisible();
  await page.keyboard.press('Escape');
  await expect(page.getByText('to Mon 24 May')).toBeHidden();

  // By drag: the head of the line, or a planned lane; biology is not stretched beyond what can be planned; Escape leaves it.
  const drag = async (handle: string, by: number) => {
    const taken = page.locator(`.drag-handle[data-handle^="${handle}"]`).first();
    await taken.scrollIntoViewIfNeeded();
    const box = await taken.boundingBox();
    if (box === null) throw new Error(`no handle ${handle}`);
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + by, y, { steps: 6 });
    await page.mouse.up();
  };
  await drag('day', 40);
  await expect(row('Graft.')).toContainText(/to (Mon 24|Tue 25|Wed 26) May/);
  await page.keyboard.press('Escape');
  await expect(page.locator('.ghost-day')).toHaveCount(0);
  await drag('queen-age', -40);
  await expect(row('Graft.')).toContainText(/to (Fri 21|Sat 22) May/);
  await expect(page.locator('.handle.held')).toContainText(/9|10 days old/);
  await expect(row('Inseminate')).not.toContainText('to ');
  await picture(page, 'countback-drag');
  await page.keyboard.press(']');
  await page.keyboard.press('Escape');
  await drag('queen-age', 700);
  await expect(page.locator('.handle.held')).toContainText('1 day old');
  await page.keyboard.press('Escape');
  await drag('drone-age', 40);
  await expect(page.locator('.handle.held')).toContainText(/1[123] to (20|19|18) days old/);
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Insemination day: a day later' }).click();
  await page.getByRole('button', { name: 'Keep the new days' }).click();
  await expect(page.getByText('Moved. Insemination is Sun 13 Jun')).toBeVisible();
  await expect(row('Graft.')).toContainText('Mon 24 May');

  const after = entriesOf(await calendar(server, cross));
  expect(new Set(after.map(({ uid }) => uid))).toEqual(new Set(before.map(({ uid }) => uid)));
  expect(after.find(({ uid }) => uid === graft?.uid)).toMatchObject({ starts: '2027-05-24', sequence: 1 });
  const comb = before.find(({ summary }) => summary.startsWith('Hang the drone comb'));
  expect(after.find(({ uid }) => uid === comb?.uid)).toMatchObject({ starts: '2027-04-26', sequence: 0 });

  // One free task moved by hand keeps its distance; the whole move steps back as one act.
  await page.getByRole('button', { name: 'A day later: First look for eggs.' }).click();
  await expect(row('First look for eggs.')).toContainText('Mon 21 Jun');
  await page.keyboard.press('Control+z');
  await expect(row('First look for eggs.')).toContainText('Sun 20 Jun');
  await page.keyboard.press('Control+z');
  await expect(row('Graft.')).toContainText('Sun 23 May');
  expect(entriesOf(await calendar(server, cross)).find(({ uid }) => uid === graft?.uid)).toMatchObject({
    starts: '2027-05-23',
    sequence: 2,
  });

  // Given up: the calendar is told, nothing vanishes.
  await does(server, 'cancel-cross', { cross });
  const gone = entriesOf(await calendar(server, cross));
  expect(gone).toHaveLength(before.length);
  expect(gone.find(({ uid }) => uid === graft?.uid)?.status).toBe('CANCELLED');
});

test('combs, a bar with two dams, its cells, virgins and carbon dioxide', async ({ page, server }) => {
  const made = await planned(server);
  await page.goto(`${server.url}/rearing${on('2027-05-23')}`);
  await expect(page.getByText('No drone comb of the book is ripe then.')).toBeVisible();
  const laid = { in_on: '2027-04-26', laid_from: '2027-04-28', laid_to: '2027-05-02' };
  const comb = { code: 'R-07 a', mother: made.mother, cross: made.cross, colony: made.colony, ...laid };
  await does(server, 'record-drone-comb', comb, { done: at('2027-05-02'), happened: true });
  await expect(page.getByText('Ripe then:')).toBeVisible();

  await page.keyboard.press('n');
  await expect(page.getByRole('heading', { name: 'Write down a graft' })).toBeVisible();
  await page.getByLabel('to cell').fill('10');
  const choose = async (within: string, code: string) => {
    const box = page.locator(within).getByRole('combobox');
    await box.click();
    await box.fill(code);
    await page.getByRole('option', { name: code }).click();
    await page.keyboard.press('Escape');
  };
  await choose('.range-field', '26-014');
  await choose('.choose:has-text("For which cross")', 'B');
  await page.getByRole('button', { name: 'Another dam on this bar' }).click();
  await page.getByLabel('to cell').nth(1).fill('20');
  await choose('.range-field >> nth=1', '26-020');
  await expectAccessible(page);
  await picture(page, 'bar-new');
  await page.getByRole('button', { name: 'Keep this bar' }).click();

  await expect(page.getByRole('heading', { name: 'bar 1' })).toBeVisible();
  await expect(page.getByRole('heading', { name: 'Cells 11 to 20: 26-020' })).toBeVisible();
  await page.getByRole('button', { name: 'Choose all that are there' }).click();
  await page.getByRole('button', { name: 'Cell 4, grafted' }).click();
  await page.getByRole('button', { name: 'Cell 17, grafted' }).click();
  await picture(page, 'bar-accepting');
  await page.getByRole('button', { name: 'Keep: 18 cells accepted' }).click();
  await expect(page.getByText('18 of 20')).toBeVisible();
  await expect(page.getByRole('button', { name: 'Cell 4, not accepted' })).toBeVisible();

  await page.goto(page.url() + on('2027-06-04'));
  await page.getByText('emerged', { exact: true }).click();
  await page.getByRole('button', { name: 'Choose none' }).click();
  for (const cell of [1, 2, 3, 14]) await page.getByRole('button', { name: `Cell ${cell}, accepted` }).click();
  await page.getByLabel('Codes, in the order of the cells').fill('27-001 27-002');
  await page.getByLabel('First disc number').fill('1');
  await page.getByRole('button', { name: 'Keep: 4 cells emerged' }).click();
  await expect(page.getByRole('heading', { name: '4 queens came out' })).toBeVisible();
  await expect(page.getByRole('link', { name: 'bar 1, cell 14' })).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'bar');

  await page.goto(`${server.url}/rearing/virgins${on('2027-06-11')}`);
  await expect(page.getByText('4 of 4 had no carbon dioxide yet')).toBeVisible();
  await expect(page.getByText('Carbon dioxide in a room')).toBeVisible();
  await page.getByLabel('Choose 27-001').check();
  await page.getByRole('button', { name: 'CO₂ given to 1 queen' }).click();
  await expect(page.getByText('3 of 4 had no carbon dioxide yet')).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'virgins');
  await page.getByRole('button', { name: 'Choose all who had none' }).click();
  await page.getByRole('button', { name: 'CO₂ given to 3 queens' }).click();
  await expect(page.getByText('0 of 4 had no carbon dioxide yet')).toBeVisible();

  await page.goto(`${server.url}/rearing${on('2027-06-11')}`);
  await expect(page.getByRole('link', { name: 'R-07 a' })).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'rearing');
  await page.getByRole('link', { name: 'R-07 a' }).click();
  await expect(page.getByRole('heading', { name: 'Drone comb R-07 a' })).toBeVisible();
  await page.getByRole('textbox', { name: 'First drones out' }).fill('22 May');
  await page.getByLabel('How the drones are marked').fill('blue dot');
  await page.getByRole('button', { name: 'Keep it' }).click();
  await expect(page.getByText('Kept: drone comb R-07 a.')).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'comb');
  await page.goto(`${server.url}/rearing/countback/${made.cross}${on('2027-06-11')}`);
  await expect(page.getByText('R-07 a · R-07', { exact: true })).toBeVisible();
  await picture(page, 'countback-real');
});

test('queens of a bar that two crosses share: said for which each is meant, changed, and stepped back', async ({
  page,
  server,
}) => {
  const { dam, mother, cross } = await planned(server);
  const second = { code: 'C', queens_wanted: 6, dose_ul: 8, inseminate_on: '2027-06-12' };
  const sides = { dams: [dam], drone_sources: [{ queen: mother }] };
  const { id: other } = await does(server, 'plan-cross', { cross: second, ...sides }, { done: at('2027-04-20') });
  const season = { name: '2027', from_on: '2027-06-01', to_on: '2027-06-30' };
  await does(server, 'begin-season', season, { done: at('2027-04-20') });
  const day = (id: string, queens: number) => ({
    ...{ cross: id, on: '2027-06-12', queens, queen_age: 8, drone_age_from: 14, drone_age_to: 21 },
  });
  const use = (id: string, amount: number) => ({ cross: id, on: '2027-06-12', amount });
  const plan = {
    days: [day(cross, 12), day(other, 6)],
    bars: [{ dam, day: '2027-05-23', larvae: 40, uses: [use(cross, 12), use(other, 6)] }],
    combs: [{ mother, day: '2027-04-26', combs: 2, uses: [use(cross, 1), use(other, 1)] }],
  };
  const taken = await fetch(`${server.url}/api/act/take-season-plan`, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify({ input: plan, done: at('2027-04-20') }),
  });
  expect(taken.status, await taken.text()).toBe(200);

  // The page of a cross draws the bar it shares; moved alone, the bar stays and is named.
  await page.goto(`${server.url}/rearing/countback/${cross}${on('2027-04-22')}`);
  await expect(page.getByRole('heading', { name: 'Tasks' })).toBeVisible();
  await page.keyboard.press(']');
  await expect(page.getByText('The bar of 26-014 is for cross C as well, and stays.')).toBeVisible();
  await picture(page, 'countback-shared');
  await page.keyboard.press('Escape');

  const graft = { code: 'bar 1', day: '2027-05-23' };
  const ranges = [{ position_from: 1, position_to: 40, dam }];
  const past = (date: string) => ({ done: at(date), happened: true });
  const { id: bar } = await does(server, 'record-graft', { graft, ranges }, past('2027-05-23'));
  const out = [1, 2, 3].map((position) => ({ position, code: `27-00${position}` }));
  await does(server, 'emerge-virgins', { graft: bar, virgins: out, on: '2027-06-04' }, past('2027-06-04'));
  await page.goto(`${server.url}/rearing/virgins${on('2027-06-05')}`);
  await expect(page.getByText('For no cross yet')).toBeVisible();
  await expect(page.getByText('for B, C?')).toHaveCount(3);
  await page.getByLabel('Choose 27-001').check();
  await page.getByLabel('Choose 27-002').check();
  await page.getByRole('button', { name: 'cross C, 0 of 6' }).click();
  await expect(page.getByRole('heading', { name: /For cross C/ })).toContainText('2 of 6 wanted');
  await expectAccessible(page);
  await picture(page, 'virgins-shared');
  await page.getByLabel('Choose 27-002').check();
  await page.getByRole('button', { name: 'cross B, 0 of 12' }).click();
  await expect(page.getByRole('heading', { name: /For cross B/ })).toContainText('1 of 12 wanted');
  await page.keyboard.press('Control+z');
  await expect(page.getByRole('heading', { name: /For cross C/ })).toContainText('2 of 6 wanted');
  await page.goto(`${server.url}/rearing/graft/${bar}${on('2027-06-05')}`);
  await expect(page.getByRole('link', { name: 'Cross C' })).toBeVisible();
  await expect(page.locator('.hatched li').first()).toContainText('Cross C');
});
