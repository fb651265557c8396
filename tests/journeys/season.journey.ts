import type { Running } from '../support/running-server.ts';
import { does, expect, expectAccessible, picture, test } from './support/journey.ts';

const on = (day: string) => `?today=${day}`;
const at = (day: string) => ({ done: `${day}T10:00:00+02:00[Europe/Berlin]` });
const past = (day: string) => ({ ...at(day), happened: true });

/** Six crosses of three dams with two drone mothers, two for each of three Saturdays. */
async function sixCrosses(server: Running) {
  const home = await does(server, 'record-yard', { name: 'Mill yard', walking_order: 1 });
  const queen = async (code: string, colony: string) => {
    const { id: stands } = await does(server, 'record-colony', {
      colony: { code: colony, form: 'full' },
      yard: home.id,
    });
    const input = { queen: { code, emerged: '2026-06-20' }, stands: { colony: stands } };
    return (await does(server, 'record-queen', input, at('2027-03-20'))).id;
  };
  const dams = [await queen('26-014', 'M 1'), await queen('26-020', 'M 2'), await queen('26-031', 'M 3')];
  const mothers = [await queen('R-07', 'M 4'), await queen('R-09', 'M 5')];
  const saturdays = ['2027-06-12', '2027-06-19', '2027-06-26'];
  for (const [i, code] of ['A', 'B', 'C', 'D', 'E', 'F'].entries()) {
    const day = saturdays[i % 3];
    const cross = { code, queens_wanted: 8, dose_ul: 8, earliest_on: day, latest_on: day };
    const input = { cross, dams: [dams[i % 3]], drone_sources: [{ queen: mothers[i % 2] }] };
    await does(server, 'plan-cross', input, at('2027-03-21'));
  }
  return { dams, mothers };
}

test('six crosses on three days: planned at once, half a graft lost, mended, and stepped back', async ({
  page,
  server,
}) => {
  const { dams } = await sixCrosses(server);
  await page.goto(`${server.url}/rearing/season${on('2027-03-22')}`);
  await expect(page.getByText('6 crosses wait for their days.')).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'season-empty');
  await page.getByRole('button', { name: 'Begin the season' }).click();

  // What is scarce, edited where it stands; a limit of none is refused there.
  const limit = (name: string) => page.getByRole('textbox', { name, exact: true });
  await limit('Cells in the starters at once').fill('0');
  await limit('Cells in the starters at once').press('Enter');
  await expect(page.getByText('With none of it nothing can be planned.')).toBeVisible();
  await limit('Cells in the starters at once').fill('120');
  await limit('Cells in the starters at once').press('Enter');
  await expect(page.getByText('With none of it nothing can be planned.')).toBeHidden();
  await limit('Queens of cross A').fill('0');
  await limit('Queens of cross A').press('Enter');
  await expect(page.getByText('At least one queen is needed.')).toBeVisible();
  await limit('Queens of cross A').press('Escape');

  // Limits that contradict are named, and nothing is taken.
  await limit('Queens a day and operator').fill('10');
  await limit('Queens a day and operator').press('Enter');
  await page.getByRole('button', { name: 'Propose days' }).click();
  await expect(page.getByText('30 of 48 queens fit.')).toBeVisible({ timeout: 30_000 });
  await expect(
    page.getByText('These do not go together: queens a day (10) and the days wished for crosses.'),
  ).toBeVisible({
    timeout: 30_000,
  });
  await picture(page, 'season-clash');
  await page.getByRole('button', { name: 'Leave it' }).click();
  await limit('Queens a day and operator').fill('20');
  await limit('Queens a day and operator').press('Enter');

  // What trouble counts stands there with its usual figures; below nothing is refused.
  await expect(limit('One more graft')).toHaveValue('0.3');
  await limit('Each day the insemination is moved').fill('-1');
  await limit('Each day the insemination is moved').press('Enter');
  await expect(page.getByText('Give 0 or more.')).toBeVisible();
  await limit('Each day the insemination is moved').fill('0.5');
  await limit('Each day the insemination is moved').press('Enter');
  await expect(page.getByText('Give 0 or more.')).toBeHidden();
  // Emptied, the usual figure stands there again, and says what it is.
  await limit('One more graft').fill('2');
  await limit('One more graft').press('Enter');
  await expect(page.getByText('(usual)')).toHaveCount(6);
  await limit('One more graft').fill('');
  await limit('One more graft').press('Enter');
  await expect(limit('One more graft')).toHaveValue('0.3');
  await expect(page.getByText('(usual)')).toHaveCount(7);
  await expectAccessible(page);
  await picture(page, 'season-weighed');

  // Proposed in a worker: it can be stopped, and the page stays free.
  await page.getByRole('button', { name: 'Propose days' }).click();
  await page.getByRole('button', { name: 'Stop' }).click();
  await expect(page.getByRole('button', { name: 'Stop' })).toBeHidden();
  await page.getByRole('button', { name: 'Propose days' }).click();
  await expect(page.getByRole('heading', { name: '48 of 48 queens on 3 days' })).toBeVisible({ timeout: 30_000 });
  await expectAccessible(page);
  await picture(page, 'season-proposal');

  // Taken as one act: three days, each with its chance; the bars of a dam shared by her two crosses.
  await page.getByRole('button', { name: 'Take this plan' }).click();
  await expect(page.getByText('Taken: 3 days, with their bars')).toBeVisible();
  const card = (day: string) => page.locator('.day-card', { hasText: day });
  await expect(card('Sat 12 Jun')).toContainText('A: 8 queens', { timeout: 30_000 });
  await expect(card('Sat 12 Jun')).toContainText(/In 1\d of 20 seasons/);
  await expect(card('Sat 26 Jun')).toContainText('gives first');
  await expectAccessible(page);
  await picture(page, 'season-days');

  // Taken back and taken again by stepping back once.
  await page.keyboard.press('Control+z');
  await expect(card('Sat 12 Jun')).toBeHidden();
  await page.getByRole('button', { name: 'Propose days' }).click();
  await page.getByRole('button', { name: 'Take this plan' }).click({ timeout: 30_000 });
  await expect(card('Sat 12 Jun')).toBeVisible({ timeout: 30_000 });

  // Every bar and comb is on Today, once for all crosses it serves.
  const facts = (await (
    await fetch(`${server.url}/api/ask/season-days?input=${encodeURIComponent('{"today":"2027-03-22"}')}`)
  ).json()) as {
    answer: {
      days: { crosses: { id: string }[] }[];
      raising: { side: string; planned: string; amount: number; mother: string }[];
    };
  };
  const bar = facts.answer.raising.find(({ side, mother }) => side === 'queens' && mother === '26-014');
  if (bar === undefined) throw new Error('no bar of 26-014');
  await page.goto(`${server.url}/today${on(bar.planned)}`);
  await expect(page.locator('.task', { hasText: `${bar.amount} larvae` }).first()).toContainText('Graft.');
  await picture(page, 'season-today');

  // Combs nobody wrote down or ticked are late: neither taken as done nor lost. Ticked, the day is as sure as planned.
  await page.goto(`${server.url}/rearing/season${on(bar.planned)}`);
  await expect(card('Sat 12 Jun')).toContainText('Late, and nobody wrote down that it was done', { timeout: 30_000 });
  await expect(card('Sat 12 Jun')).toContainText(
    /In 0 of 20 seasons.*In 1\d of 20 if what is late was done as planned/,
  );
  await expect(page.getByText(/R-07 · .*days late, drawn as begun today/).first()).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'season-late');
  // The page of one cross says both as well: begun today, and if it was done.
  await card('Sat 12 Jun').getByRole('link', { name: /^A: / }).click();
  await expect(page.getByText('If what is late was done as planned:').first()).toBeVisible({ timeout: 30_000 });
  await expect(page.getByText(/Begun today, none would be of age on the day/).first()).toBeVisible();
  await expect(page.getByText(/In 1\d of 20 if what is late was done as planned/)).toBeVisible();
  await expectAccessible(page);
  await picture(page, 'countback-late');
  await page.goto(`${server.url}/rearing/season${on(bar.planned)}`);
  await expect(card('Sat 12 Jun')).toBeVisible({ timeout: 30_000 });
  const hung = new Set<string>();
  for (const { id } of facts.answer.days.flatMap(({ crosses }) => crosses)) {
    const input = encodeURIComponent(JSON.stringify({ cross: id, today: bar.planned }));
    const { answer } = (await (await fetch(`${server.url}/api/ask/countback?input=${input}`)).json()) as {
      answer: { tasks: { id: string; key: string; from: string }[] };
    };
    for (const task of answer.tasks) if (task.key === 'drone-comb-in' && task.from < bar.planned) hung.add(task.id);
  }
  await does(server, 'do-task', { tasks: [...hung], on: bar.planned }, past(bar.planned));
  await expect(card('Sat 12 Jun')).not.toContainText('nobody wrote down', { timeout: 30_000 });
  await expect(card('Sat 12 Jun')).toContainText(/In 1\d of 20 seasons/);

  // Half the graft is lost: the day is in doubt, and the cheapest repair is offered first.
  const ranges = [{ position_from: 1, position_to: bar.amount, dam: dams[0] }];
  const { id: graft } = await does(
    server,
    'record-graft',
    { graft: { code: 'bar 1', day: bar.planned }, ranges },
    past(bar.planned),
  );
  const half = Array.from({ length: Math.round(bar.amount * 0.4) }, (_, i) => i + 1);
  await does(server, 'record-cells', { graft, what: 'accepted', positions: half }, past(bar.planned));
  await page.goto(`${server.url}/rearing/season${on(bar.planned)}`);
  await expect(card('Sat 12 Jun').getByRole('heading', { name: 'What mends it' })).toBeVisible({ timeout: 30_000 });
  await expect(card('Sat 12 Jun')).toContainText('Queens of 26-014');
  await expectAccessible(page);
  await picture(page, 'season-lost');
  const before = await card('Sat 12 Jun').locator('.readiness').textContent();
  await card('Sat 12 Jun')
    .getByRole('button', { name: /more of 26-014/ })
    .click();
  await expect(page.getByText('Done: Graft')).toBeVisible();
  await expect(card('Sat 12 Jun').getByRole('heading', { name: 'What mends it' })).toBeHidden({ timeout: 30_000 });
  await picture(page, 'season-mended');

  // One step back: the day is in doubt as before.
  await page.keyboard.press('Control+z');
  await expect(card('Sat 12 Jun').getByRole('heading', { name: 'What mends it' })).toBeVisible({ timeout: 30_000 });
  await expect(card('Sat 12 Jun').locator('.readiness')).toHaveText(before ?? '');
});

test('a day moved by button, key and drag, kept as one act and stepped back', async ({ page, server }) => {
  await sixCrosses(server);
  await page.goto(`${server.url}/rearing/season${on('2027-03-22')}`);
  await page.getByRole('button', { name: 'Begin the season' }).click();
  await page.getByRole('button', { name: 'Propose days' }).click();
  await page.getByRole('button', { name: 'Take this plan' }).click({ timeout: 30_000 });
  const card = (day: string) => page.locator('.day-card', { hasText: day });
  await expect(card('Sat 26 Jun')).toBeVisible({ timeout: 30_000 });

  // By button and key, as a ghost; Escape leaves it.
  await page.getByRole('button', { name: 'Sat 26 Jun: a day later' }).click();
  await expect(card('Sat 26 Jun')).toContainText('to Sun 27 Jun');
  await page.keyboard.press(']');
  await expect(card('Sat 26 Jun')).toContainText('to Mon 28 Jun');
  await picture(page, 'season-ghost');
  await page.keyboard.press('Escape');
  await expect(page.locator('.ghost-day')).toBeHidden();

  // By drag of its line, kept by the button.
  const handle = page.locator('.drag-handle[data-handle="2027-06-26"]');
  await handle.scrollIntoViewIfNeeded();
  const box = await handle.boundingBox();
  if (box === null) throw new Error('no handle');
  await page.mouse.move(box.x + box.width / 2, box.y + 20);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width / 2 - 40, box.y + 20, { steps: 6 });
  await page.mouse.up();
  await expect(page.locator('.ghost-day')).toBeVisible();
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Sat 26 Jun: a day earlier' }).click();
  await page.getByRole('button', { name: 'Keep the new day' }).click();
  await expect(page.getByText('Moved to Fri 25 Jun')).toBeVisible();
  await expect(card('Fri 25 Jun')).toBeVisible({ timeout: 30_000 });
  await page.keyboard.press('Control+z');
  await expect(card('Sat 26 Jun')).toBeVisible({ timeout: 30_000 });
});

test('a dead mother and a day too near: each a clear answer', async ({ page, server }) => {
  const { dams } = await sixCrosses(server);
  await page.goto(`${server.url}/rearing/season${on('2027-03-22')}`);
  await page.getByRole('button', { name: 'Begin the season' }).click();
  await expect(page.getByRole('heading', { name: 'What is scarce' })).toBeVisible();
  const own = { code: 'G', queens_wanted: 4, dose_ul: 8, profile: 'early-spring', larva_age_hours: 36 };
  const sides = { dams: [dams[1]], drone_sources: [{ queen: dams[2] }] };
  await does(server, 'plan-cross', { cross: own, ...sides }, at('2027-03-21'));
  await expect(page.getByText('own times: Early spring, or comb still to be drawn, larvae of 36 hours')).toBeVisible();
  await expect(page.getByText('“Standard text” holds for all but one cross:')).toBeVisible();
  await picture(page, 'season-own-times');
  await page.getByRole('link', { name: 'Cross G: times of its own' }).click();
  await expect(page.getByRole('combobox', { name: 'Timings' })).toHaveValue('early-spring');
  await page.goBack();
  await does(server, 'record-fate', { queen: dams[0], kind: 'died', happened_on: '2027-03-21' }, past('2027-03-21'));
  await expect(page.getByText('26-014 cannot be grafted from: she is gone').first()).toBeVisible();
  await page.goto(`${server.url}/rearing/season${on('2027-06-01')}`);
  await page.getByRole('button', { name: 'Propose days' }).click();
  await expect(page.getByText('Some eggs or larvae should have been there by now.')).toBeVisible({ timeout: 30_000 });
  await expect(
    page.getByText(/Drone eggs should have been laid \d+ days ago. The earliest day is/).first(),
  ).toBeVisible();
  await expect(page.getByText('No drones are on the way for that day.').first()).toBeVisible();
  await picture(page, 'season-too-near');
});

test('while the days are worked out every other request is answered, and who leaves ends the work', async ({
  server,
}) => {
  const { dams, mothers } = await sixCrosses(server);
  for (let i = 0; i < 10; i++) {
    const cross = { code: `K${i}`, queens_wanted: 20, dose_ul: 8, inseminate_on: `2027-06-${14 + i}` };
    await does(
      server,
      'plan-cross',
      { cross, dams: [dams[i % 3]], drone_sources: [{ queen: mothers[i % 2] }] },
      at('2027-03-21'),
    );
    const bar = { code: `bar ${i}`, day: `2027-05-${25 + (i % 5)}`, larvae: 60 };
    const ranges = [{ position_from: 1, position_to: 60, dam: dams[i % 3] }];
    await does(server, 'record-graft', { graft: bar, ranges }, past('2027-05-30'));
    const comb = { code: `comb ${i}`, mother: mothers[i % 2], in_on: `2027-04-${20 + i}` };
    await does(server, 'record-drone-comb', comb, past('2027-05-01'));
  }
  const asked = (name: string, input: object, signal?: AbortSignal) =>
    fetch(`${server.url}/api/ask/${name}?input=${encodeURIComponent(JSON.stringify(input))}`, signal && { signal });
  const timed = async (work: () => Promise<unknown>) => {
    const began = performance.now();
    await work();
    return performance.now() - began;
  };
  const days = () => asked('season-days', { today: '2027-05-30' });

  // Asked again and again while the days are worked out: nobody waits for them.
  let isThere = false;
  const whole = timed(async () => expect((await days()).status).toBe(200)).finally(() => {
    isThere = true;
  });
  let answered = 0;
  while (!isThere) {
    await fetch(`${server.url}/api/health`);
    answered++;
  }
  expect(answered).toBeGreaterThan(10);

  // Ten who ask and leave hold up nobody who comes after them.
  const control = new AbortController();
  const leaving = Array.from({ length: 10 }, () =>
    asked('season-days', { today: '2027-05-30' }, control.signal).catch((error: Error) => error.name),
  );
  await new Promise((resolve) => setTimeout(resolve, 200));
  control.abort();
  expect(new Set(await Promise.all(leaving))).toEqual(new Set(['AbortError']));
  // had the ten been worked out, she would have waited ten times as long
  expect(await timed(days)).toBeLessThan(6 * (await whole));
});
