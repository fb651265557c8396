/** The whole season once through, on a breeder's own messy sheet: from the import to "7 of 9", and all of it taken back. */
import type { Page } from '@playwright/test';
import type { Running } from '../support/running-server.ts';
import { present, press } from './support/bench-stock.ts';
import { bringSheet } from './support/bring-sheet.ts';
import { does, expect, expectAccessible, picture, test, windowPicture } from './support/journey.ts';

const at = (day: string, time = '10:00') => `${day}T${time}:00+02:00[Europe/Berlin]`;
const on = (day: string) => `?today=${day}`;

async function asked<T>(server: Running, name: string, input: unknown): Promise<T> {
  const response = await fetch(`${server.url}/api/ask/${name}?input=${encodeURIComponent(JSON.stringify(input))}`);
  return ((await response.json()) as { answer: T }).answer;
}

const make = async (server: Running, name: string, input: unknown, day: string, time?: string) =>
  (await does(server, name, input, { happened: true, done: at(day, time) })).id;

type Found = { found: { kind: string; id: string; code: string }[] };
const idOf = async (server: Running, kind: string, words: string): Promise<string> => {
  const { found } = await asked<Found>(server, 'find', { words });
  const hit = found.find((each) => each.kind === kind && each.code === words);
  if (hit === undefined) throw new Error(`no ${kind} ${words}`);
  return hit.id;
};

/** The season between the plan and the bench, as it happened: comb, graft, virgins in cages, nucs to go home to. */
async function rearing(server: Running, cross: string, dam: string): Promise<{ queens: string[]; nucs: string[] }> {
  const yard = await make(server, 'record-yard', { name: 'Nuc yard', walking_order: 1 }, '2027-05-01');
  const graft = await make(
    server,
    'record-graft',
    { graft: { code: 'bar 1', day: '2027-05-23', cross }, ranges: [{ position_from: 1, position_to: 20, dam }] },
    '2027-05-23',
  );
  const positions = Array.from({ length: 12 }, (_, i) => i + 1);
  await make(server, 'record-cells', { graft, what: 'accepted', positions: [...positions, 13, 14] }, '2027-05-24');
  const virgins = positions.map((position) => ({
    position,
    code: `27-${String(position).padStart(3, '0')}`,
    disc: position,
  }));
  await make(server, 'emerge-virgins', { graft, virgins }, '2027-06-04');
  const queens: string[] = [];
  const nucs: string[] = [];
  for (const { code, position } of virgins) {
    const queen = await idOf(server, 'queen', code);
    const colony = { code: `N-${String(position).padStart(2, '0')}`, form: 'nuc', since: '2027-06-04' };
    const nuc = await make(server, 'record-colony', { colony, yard, spot: position }, '2027-06-04');
    await make(server, 'move-queen', { queen, colony: nuc, on: '2027-06-04' }, '2027-06-04', '12:00');
    queens.push(queen);
    nucs.push(nuc);
  }
  await make(server, 'give-co2', { queens, minutes: 3, relation: 'before' }, '2027-06-11', '17:00');
  return { queens, nucs };
}

async function tally(page: Page, server: Running, mother: string): Promise<void> {
  await page.goto(`${server.url}/semen/tally${on('2027-06-12T08:00')}`);
  await page.getByRole('combobox', { name: /Drones of/ }).fill(mother);
  await page.getByRole('option', { name: mother }).first().click();
  await page.getByRole('textbox', { name: 'Taken' }).fill('44');
  await page.getByRole('textbox', { name: 'Left over' }).fill('3');
  for (const [i, code] of ['C-01', 'C-02'].entries()) {
    if (i > 0) await page.getByRole('button', { name: 'Another tube' }).click();
    const tube = page.getByRole('group', { name: `Tube ${i + 1}` });
    await tube.getByRole('textbox', { name: 'Code of a new tube' }).fill(code);
    await tube.getByRole('textbox', { name: 'Inner bore' }).fill('0,8');
    await tube.getByRole('textbox', { name: 'Reading before' }).fill('0');
    await tube.getByRole('textbox', { name: 'Reading after' }).fill(i === 0 ? '11' : '10,5');
    await tube.getByRole('textbox', { name: 'Drones into it' }).fill('10');
  }
  await expect(page.getByText('20', { exact: true }).first()).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'season-5-tally');
  await page.getByRole('button', { name: 'Record this catch' }).click();
  await expect(page.getByText('The catch is recorded.')).toBeVisible();
}

test('from a messy sheet to “7 of 9”, and every step of it taken back and put back', async ({ page, server }) => {
  test.setTimeout(420_000);
  await bringSheet(page, server, (name) => picture(page, name));
  type Row = { id: string; code: string; living: string; emerged: string | null };
  const { queens: rows } = await asked<{ queens: Row[] }>(server, 'stock-book', { today: '2027-02-01' });
  const living = rows.filter((row) => row.living === 'alive' && row.code !== null);
  const [damRow, motherRow] = [living.at(-1), living.at(-9)];
  if (damRow === undefined || motherRow === undefined) throw new Error('the sheet has no living queens');
  const dam = damRow.code;
  const mother = motherRow.code;

  // Who she is: her descent over four generations, the drone side as a group.
  await page.goto(`${server.url}/stock/queen/${damRow.id}${on('2027-02-01')}`);
  await expect(page.getByRole('group', { name: `Descent of ${dam}` })).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'season-2-descent');

  // A cross in four answers, counted back to real days.
  await page.goto(`${server.url}/crosses/start${on('2027-04-20')}`);
  await page.getByRole('textbox', { name: 'On which day do you inseminate?' }).fill('12.6.');
  await page.getByLabel('How many queens?').fill('12');
  await page.getByRole('combobox', { name: 'Queen mother' }).fill(dam);
  await page.getByRole('combobox', { name: 'Drone mother' }).fill(mother);
  await picture(page, 'season-3-cross');
  await page.getByRole('button', { name: 'Keep it and count back' }).click();
  await expect(page.getByRole('heading', { name: 'Cross A' })).toBeVisible();
  await expect(page.getByText('Sat 12 Jun').first()).toBeVisible();
  const cross = await idOf(server, 'cross', 'A');
  await page.goto(`${server.url}/rearing/countback/${cross}${on('2027-04-20')}`);
  await expect(page.getByRole('main')).toContainText('Sun 23 May');
  await expectAccessible(page);
  await picture(page, 'season-3-countback');

  // Its first task is due, and ticked by one press.
  await page.goto(`${server.url}/today${on('2027-04-26')}`);
  const tick = page.getByRole('button', { name: 'Done: Hang the drone comb' });
  await expect(tick).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'season-4-today');
  await tick.click();
  await expect(page.getByText('done Mon 26 Apr')).toBeVisible();

  const { queens, nucs } = await rearing(server, cross, damRow.id);

  // Drones tallied into two capillaries; the rack drawn to length.
  await tally(page, server, mother);
  await make(
    server,
    'tally-drones',
    {
      taken: 190,
      left_over: 5,
      gave: 92,
      sources: [{ mother: motherRow.id }],
      into: ['C-03', 'C-04', 'C-05'].map((code) => ({ new: { code, bore_mm: 0.8 }, start: 0, end: 33, drones: 30 })),
    },
    '2027-06-12',
    '08:30',
  );
  await page.goto(`${server.url}/semen${on('2027-06-12T09:30')}`);
  await expect(page.getByText('C-01')).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'season-5-rack');

  // The bench: twelve queens by keyboard; a stranger's cage is stopped, one leak is noted, one dose stepped back.
  const bench = await make(server, 'open-bench-day', { place: 'bee laboratory', first_tip: 1 }, '2027-06-12', '08:45');
  const queue = queens.map((queen, i) => ({ queen, cage: String(i + 1), home: nucs[i] }));
  await make(server, 'queue-queens', { bench_day: bench, cross, queens: queue }, '2027-06-12', '08:50');
  const stranger = await make(
    server,
    'record-queen',
    { queen: { code: '27-091', emerged: '2027-06-04' } },
    '2027-06-04',
  );
  const other = await make(
    server,
    'plan-cross',
    {
      cross: { code: 'B', queens_wanted: 1, dose_ul: 8, inseminate_on: '2027-06-12' },
      dams: [motherRow.id],
      drone_sources: [{ queen: damRow.id }],
      drones_there: true,
      virgins_there: true,
    },
    '2027-06-01',
  );
  await make(
    server,
    'queue-queens',
    { bench_day: bench, cross: other, queens: [{ queen: stranger, cage: '91' }] },
    '2027-06-12',
    '08:51',
  );
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.goto(`${server.url}/bench/${bench}/board/${cross}${on('2027-06-12T10:00')}`);
  const board = page.getByRole('region', { name: 'Bench board' });
  await expect(board).toBeVisible();
  await windowPicture(page, 'season-6-board');
  for (let n = 1; n <= 12; n++) {
    await present(page, String(n));
    // The tube holds less than a dose: its rest, and what is missing out of the next one.
    if ([2, 3, 7, 11].includes(n)) {
      await page.keyboard.press('c');
      await page.waitForTimeout(120);
    }
    await press(page);
    if (n === 2) {
      await page.keyboard.press('1');
      await page.waitForTimeout(80);
    }
    if (n === 3) {
      await page.keyboard.down('Space');
      await page.waitForTimeout(1_700);
      await page.keyboard.up('Space');
      await expect(board).toContainText('Press again to step back');
      await page.waitForTimeout(430);
      await press(page);
      await press(page);
    }
    await present(page, String(n));
    if (n === 4) {
      await present(page, '91');
      const stop = page.getByRole('alertdialog');
      await expect(stop).toContainText('belongs to cross B');
      await windowPicture(page, 'season-6-stop');
      await page.keyboard.press('1');
      await expect(stop).toBeHidden();
    }
  }
  await expect(board).toContainText('12 of 12');
  await windowPicture(page, 'season-6-board-done');
  type Summary = {
    summary: { crosses: { code: string; doses: number; queens: { exceptions: { kind: string }[] }[] }[] };
  };
  const done = async () =>
    (await asked<Summary>(server, 'bench-summary', { bench_day: bench })).summary.crosses.find(
      ({ code }) => code === 'A',
    );
  await expect.poll(async () => (await done())?.doses).toBe(12);
  expect((await done())?.queens[1]?.exceptions.map(({ kind }) => kind)).toEqual(['leak']);
  // 21.5 µl of two small tubes and 99 µl of three: 96 µl given, a dose out of two tubes four times, no tube drawn past its reading.
  type Rack = { tubes: { code: string; left: number; overdrawn: number }[] };
  const { tubes } = await asked<Rack>(server, 'rack', {});
  expect(tubes.find(({ code }) => code === 'C-05')?.left).toBeCloseTo(24.5);
  expect(tubes.filter(({ overdrawn }) => overdrawn > 0)).toEqual([]);

  // Home: each queen stands in her own nuc.
  type Faces = { leaf: { reigns: { queen: { code: string } | null; to: unknown }[] } | null };
  const third = await asked<Faces>(server, 'colony', { colony: nucs[2], today: '2027-06-13' });
  expect(third.leaf?.reigns.at(-1)?.queen?.code).toBe('27-003');

  // Looks: eggs after a week; one queen dies, three are sold, eight are judged by their caps.
  await page.goto(`${server.url}/yard/round/enter${on('2027-06-19')}`);
  await page.getByRole('combobox', { name: 'In all others' }).selectOption('eggs');
  await page.getByRole('textbox', { name: 'Otherwise' }).fill('N-05 no eggs\nN-12 queen gone');
  await page.getByRole('button', { name: 'Keep the round' }).click();
  await expect(page.getByText('12 nucs are kept.')).toBeVisible();
  for (const n of [9, 10, 11])
    await make(server, 'record-fate', { queen: queens[n - 1], kind: 'sold', happened_on: '2027-06-28' }, '2027-06-28');
  await page.goto(`${server.url}/yard/round/enter${on('2027-07-03')}`);
  await page.getByRole('combobox', { name: 'In all others' }).selectOption('worker-caps');
  await page.getByRole('textbox', { name: 'Otherwise' }).fill('N-05 drone caps');
  await picture(page, 'season-7-round');
  await page.getByRole('button', { name: 'Keep the round' }).click();
  await expect(page.getByText(/nucs are kept\./)).toBeVisible();
  await picture(page, 'season-7-yard');

  // Lessons: counts first. Twelve inseminated, one lost, three sold before anybody knew, one drone layer.
  await page.goto(`${server.url}/bench/lessons${on('2027-07-20')}`);
  await page.getByRole('textbox', { name: 'From' }).fill('2027-01-01');
  await expect(page.getByText('7 of 9 lay.')).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'season-8-lessons');

  // The import cannot be stepped back alone: the acts built on it are named; with them it goes as one act, and comes back.
  await page.goto(`${server.url}/history${on('2027-07-21')}`);
  const importRow = page.getByRole('row').filter({ hasText: 'brought in a spreadsheet' });
  await importRow.getByRole('button', { name: 'Step back' }).click();
  await expect(page.getByRole('alert')).toContainText('later acts were built on it');
  await expect(page.getByRole('alert')).toContainText('wrote down a graft');
  await picture(page, 'season-9-refused');
  await page.getByRole('button', { name: 'Step it back with every later act built on it' }).click();
  // Only the stranger stays: she was written down by hand, and nothing about her came from the sheet.
  const left = async () =>
    (await asked<{ queens: Row[] }>(server, 'stock-book', { today: '2027-07-21' })).queens.map(({ code }) => code);
  await expect.poll(left).toEqual(['27-091']);
  await page.reload();
  await page
    .getByRole('row')
    .filter({ hasText: 'stepped back' })
    .first()
    .getByRole('button', { name: 'Step back' })
    .click();
  await expect
    .poll(async () => (await asked<{ queens: Row[] }>(server, 'stock-book', { today: '2027-07-21' })).queens.length)
    .toBeGreaterThan(200);
  await page.goto(`${server.url}/bench/lessons${on('2027-07-20')}`);
  await page.getByRole('textbox', { name: 'From' }).fill('2027-01-01');
  await expect(page.getByText('7 of 9 lay.')).toBeVisible();
});
