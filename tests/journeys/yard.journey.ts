import type { Page } from '@playwright/test';
import { does, expect, expectAccessible, expectNoSidewaysScrolling, picture, test } from './support/journey.ts';
import { after, yardStock } from './support/yard-stock.ts';

/** The rules on the whole page at once: nothing lies under the bar that sticks to the foot of the window. */
async function expectWholeAccessible(page: Page): Promise<void> {
  const before = page.viewportSize();
  const height = await page.evaluate(() => document.documentElement.scrollHeight);
  await page.setViewportSize({ width: before?.width ?? 1440, height: height + 200 });
  await expectAccessible(page);
  if (before !== null) await page.setViewportSize(before);
}

test('yards, colonies and nucs: empty page, forms, walking order, leaf', async ({ page, server }) => {
  await page.goto(`${server.url}/yard?today=2027-06-01`);
  await expect(page.getByText('what stands where')).toBeVisible();
  await expectWholeAccessible(page);
  await picture(page, 'yard-empty');
  await page.getByRole('main').getByRole('link', { name: 'New yard' }).last().click();
  await page.getByRole('button', { name: 'Keep this yard' }).click();
  await expect(page.getByRole('alert')).toContainText('Nothing is written here');
  await page.getByRole('textbox', { name: /Name of the yard/ }).fill('Heath');
  await page.getByRole('button', { name: 'Keep this yard' }).click();
  await expect(page.getByRole('heading', { name: 'Heath' })).toBeVisible();
  for (const [code, spot] of [
    ['N-01', '2'],
    ['N-02', '1'],
  ] as const) {
    await page.goto(`${server.url}/yard/new-colony`);
    await page.getByRole('textbox', { name: /Code of the colony/ }).fill(code);
    await page.getByRole('combobox', { name: 'Yard', exact: true }).fill('Heath');
    await page.getByRole('option', { name: /Heath/ }).click();
    await page.getByRole('textbox', { name: 'Spot' }).fill(spot);
    await page.getByRole('button', { name: 'Keep this colony' }).click();
    await expect(page.getByRole('heading', { name: code })).toBeVisible();
  }
  await page.goto(`${server.url}/yard`);
  await expect(page.getByRole('row')).toHaveCount(3);
  await expect(page.getByRole('row').nth(1)).toContainText('N-02');
  await page.getByRole('link', { name: 'Heath' }).click();
  await page.getByRole('button', { name: 'Walking order' }).click();
  await page.getByRole('button', { name: 'Walk N-01 earlier' }).click();
  await page.getByRole('button', { name: 'Keep this order' }).click();
  await expect(page.getByRole('row').nth(1)).toContainText('N-01');
});

test('home: nursing, release, three rounds of looks, and the lessons they teach', async ({ page, server }) => {
  test.slow();
  await yardStock(server);

  // Q21: which nuc does she go home to.
  await page.goto(`${server.url}/yard/nursing?today=${after(0)}`);
  await expect(page.getByRole('heading', { name: '12 queens are inseminated and not home' })).toBeVisible();
  await page.getByRole('button', { name: 'Put into nursing' }).click();
  await expect(page.getByRole('textbox', { name: 'Cage of 27-003' })).toHaveValue('3');
  await expectWholeAccessible(page);
  await picture(page, 'nurse');
  await page.getByRole('button', { name: 'Put into nursing' }).last().click();
  await expect(page.getByText('12 queens are nursed.')).toBeVisible();
  await page.goto(`${server.url}/yard/nursing?today=${after(2)}`);
  await expect(page.getByRole('row', { name: /12.*27-012.*N-12/ })).toBeVisible();
  await expectWholeAccessible(page);
  await picture(page, 'nursing');
  await page.getByRole('button', { name: 'Found dead' }).click();
  await page.getByRole('textbox', { name: /Numbers of the cages/ }).fill('13');
  await page.getByRole('button', { name: 'Write them down as dead' }).click();
  await expect(page.getByRole('alert')).toContainText('cage 13');
  await page.getByRole('textbox', { name: /Numbers of the cages/ }).fill('12');
  await page.getByRole('button', { name: 'Write them down as dead' }).click();
  await expect(page.getByRole('row', { name: /12.*27-012.*dead/ })).toBeVisible();
  await page.getByRole('button', { name: 'Let them out' }).click();
  await expect(page.getByRole('combobox', { name: 'Nuc for 27-003' })).toContainText('N-03');
  await expectWholeAccessible(page);
  await picture(page, 'release');
  await page.getByRole('button', { name: 'Let them out' }).last().click();
  await expect(page.getByText('11 queens are home.')).toBeVisible();
  await expect(page.getByRole('heading', { name: 'Excluders still on' })).toBeVisible();

  // Q22: which nucs do I open today, in walking order. First round: eggs, on the phone.
  await page.setViewportSize({ width: 390, height: 844 });
  await page.goto(`${server.url}/yard/round?today=${after(7)}`);
  await expect(page.getByText('1 of 11 in Heath')).toBeVisible();
  await expect(page.getByText('Day 7. Of your last 14 queens, 4 laid by now.')).toBeVisible();
  const choice = await page.getByRole('button', { name: 'Drone caps' }).boundingBox();
  const millimetre = 96 / 25.4;
  expect(choice?.height, 'a choice is 15 mm high').toBeGreaterThanOrEqual(15 * millimetre - 0.5);
  expect(choice?.width, 'a choice is 15 mm wide').toBeGreaterThanOrEqual(15 * millimetre);
  await expectWholeAccessible(page);
  await picture(page, 'round');
  await page.setViewportSize({ width: 390, height: 844 });
  for (let n = 1; n <= 11; n++) {
    await expect(page.getByText(`${n} of 11 in Heath`)).toBeVisible();
    await page.getByRole('button', { name: n === 3 || n === 8 ? 'No eggs' : 'Eggs', exact: true }).click();
  }
  await expect(page.getByRole('heading', { name: 'The round is walked' })).toBeVisible();
  await expect(page.getByText('11 nucs were looked at, none is left.')).toBeVisible();
  await expectWholeAccessible(page);
  await picture(page, 'round-end');
  await page.setViewportSize({ width: 390, height: 844 });
  // The last nuc is stepped back and looked at again.
  await page.getByRole('button', { name: /Step back/ }).click();
  await expect(page.getByText('11 of 11 in Heath')).toBeVisible();
  await page.getByRole('button', { name: 'Eggs', exact: true }).click();
  await expect(page.getByText(/Eggs in N-01.*N-11: take the excluder off/)).toBeVisible();
  await page.getByRole('button', { name: 'Off where eggs were seen' }).click();
  await expect(page.getByText('9 excluders are off.')).toBeVisible();

  // Second round: only the two without eggs are due; one has another queen.
  await page.goto(`${server.url}/yard/round?today=${after(12)}`);
  await expect(page.getByText('1 of 2 in Heath')).toBeVisible();
  await expect(page.getByText(/Day 12. Of your last 14 queens, 13 laid by now. She is late./)).toBeVisible();
  await picture(page, 'round-late');
  await page.setViewportSize({ width: 390, height: 844 });
  await page.getByRole('button', { name: 'No eggs', exact: true }).click();
  await page.getByRole('button', { name: 'Another queen' }).click();
  await expect(page.getByRole('heading', { name: 'Which queen is it?' })).toBeVisible();
  await expectWholeAccessible(page);
  await picture(page, 'round-another');
  await page.setViewportSize({ width: 390, height: 844 });
  await page.getByRole('button', { name: 'Write her down' }).click();
  await expect(page.getByRole('heading', { name: 'The round is walked' })).toBeVisible();

  // Third round: caps. Entered from its sheet by exception.
  await page.setViewportSize({ width: 1440, height: 900 });
  await page.goto(`${server.url}/yard/round/enter?today=${after(21)}`);
  await page.getByRole('combobox', { name: 'In all others' }).selectOption('worker-caps');
  await page.getByRole('textbox', { name: 'Otherwise' }).fill('N-03 queen gone\nN-05 drone caps\nN-99 eggs');
  await expect(page.getByRole('alert')).toContainText('Line 3: no nuc N-99');
  await expectWholeAccessible(page);
  await page.getByRole('textbox', { name: 'Otherwise' }).fill('N-03 queen gone\nN-05 drone caps\nN-08 no eggs');
  await picture(page, 'round-enter');
  await page.getByRole('button', { name: 'Keep the round' }).click();
  await expect(page.getByText('11 nucs are kept.')).toBeVisible();
  await expect(page.getByRole('row', { name: /N-05.*Drone caps.*confirm/ })).toBeVisible();
  await picture(page, 'yards');
  await expectWholeAccessible(page);

  // Q24: of the queens I did, how many lay. 8 lay; 3, 5, 8 and 12 do not.
  await page.goto(`${server.url}/bench/lessons?today=${after(30)}`);
  await page.getByRole('textbox', { name: 'From' }).fill('2027-01-01');
  await expect(page.getByText('8 of 12 lay.')).toBeVisible();
  await page.getByRole('combobox', { name: 'Part the queens by' }).selectOption('tip');
  await expect(page.getByText('Tip 3: 6 of 9.')).toBeVisible();
  await expect(page.getByText('fewer than 5, not compared').first()).toBeVisible();
  await page.getByRole('combobox', { name: 'Part the queens by' }).selectOption('operator');
  await expect(page.getByText('Mira: 5 of 7. All others: 3 of 5. This could easily be luck.')).toBeVisible();
  await expectWholeAccessible(page);
  await picture(page, 'lessons');

  // A point leads to the queens behind it, and they to their leaves.
  await page.getByRole('link', { name: 'Mira: 5 of 7' }).click();
  await page.locator('#behind-Mira').getByRole('link', { name: '27-003' }).click();
  await expect(page.getByRole('heading', { name: '27-003' })).toBeVisible();
});

test('the colony leaf tells who heads it, and what can be done', async ({ page, server }) => {
  const stock = await yardStock(server);
  await page.goto(`${server.url}/yard/colony/${stock.nucs[0]}?today=${after(7)}`);
  await expect(page.getByRole('heading', { name: 'N-01' })).toBeVisible();
  await expect(page.getByText('look for eggs', { exact: false }).first()).toBeVisible();
  await page.getByRole('button', { name: 'Look into it' }).click();
  await page.getByRole('button', { name: 'Eggs', exact: true }).click();
  await page.getByRole('button', { name: 'Queen cells' }).click();
  await expectWholeAccessible(page);
  await picture(page, 'colony-look');
  await page.getByRole('button', { name: 'Keep these' }).click();
  await expect(page.getByText('Eggs, queen cells', { exact: false }).first()).toBeVisible();
  await picture(page, 'colony');
  await expectWholeAccessible(page);
  for (const act of ['Let a queen in', 'Move it', 'Unite it with another', 'Split it', 'It has ended', 'Change code']) {
    await page.getByRole('button', { name: act }).first().click();
    await expectWholeAccessible(page);
  }
});

test('the spring check names what breaks and who stands in', async ({ page, server }) => {
  const stock = await yardStock(server);
  const sister = (
    await does(server, 'record-queen', { queen: { code: '26-201', emerged: '2026-06-05', dam: stock.dam } })
  ).id;
  const drones = (await does(server, 'record-queen', { queen: { code: 'D-01', emerged: '2026-06-05' } })).id;
  await does(
    server,
    'plan-cross',
    {
      cross: { code: 'C', queens_wanted: 8, dose_ul: 8, inseminate_on: '2028-06-10' },
      dams: [stock.queens[0]],
      drone_sources: [{ queen: drones }],
      stand_ins: [{ queen: sister, side: 'queen' }],
    },
    { happened: true },
  );
  await page.goto(`${server.url}/yard/spring?today=2028-03-20`);
  await expect(page.getByText('0 of 3 looked at')).toBeVisible();
  await expectWholeAccessible(page);
  await picture(page, 'spring');
  await page.getByRole('group', { name: '27-001' }).getByRole('button', { name: 'Gone' }).click();
  await expect(page.getByText('Cross C loses its queen side.')).toBeVisible();
  await expect(page.getByText(/Stand-in 26-201, relatedness 0.00 instead of 0.00/)).toBeVisible();
  await picture(page, 'spring-breaks');
  await page.getByRole('button', { name: /Step back/ }).click();
  await expect(page.getByText('Cross C loses its queen side.')).toHaveCount(0);
});

test('no page of Yard scrolls sideways at 320 px, and every paper is drawn', async ({ page, server }) => {
  const stock = await yardStock(server);
  await page.setViewportSize({ width: 320, height: 700 });
  const paths = ['', '/nursing', '/round', '/round/enter', '/spring', '/scores', '/new', '/new-colony'];
  for (const path of [...paths, `/yard/${stock.yard}`, `/colony/${stock.nucs[0]}`]) {
    await page.goto(`${server.url}/yard${path}?today=${after(7)}`);
    await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
    await page.waitForLoadState('networkidle');
    await expectNoSidewaysScrolling(page, path);
  }
  for (const paper of ['round-sheet', 'nuc-labels', 'spring-sheet']) {
    const input = encodeURIComponent(JSON.stringify({ today: after(7) }));
    const drawn = await page.request.get(`${server.url}/api/paper/${paper}?input=${input}`);
    expect(drawn.status(), paper).toBe(200);
    expect(drawn.headers()['content-type']).toContain('application/pdf');
  }
});

/** A finger drawn across the page. */
const swipe = (page: Page, across: number) =>
  page.locator('.round').evaluate((round, by) => {
    const at = (x: number) => [new Touch({ identifier: 1, target: round, clientX: x, clientY: 300 })];
    round.dispatchEvent(new TouchEvent('touchstart', { touches: at(200), changedTouches: at(200), bubbles: true }));
    round.dispatchEvent(new TouchEvent('touchend', { changedTouches: at(200 + by), bubbles: true }));
  }, across);

test('a round by swipe, keys and photo; early eggs ask whether it is the same queen', async ({ page, server }) => {
  await yardStock(server);
  await page.setViewportSize({ width: 390, height: 844 });
  await page.goto(`${server.url}/yard/round?today=${after(1)}`);
  await page.getByRole('button', { name: 'Walk all nucs with a queen' }).click();
  await expect(page.getByText('1 of 12 in Heath')).toBeVisible();
  await swipe(page, -120);
  await expect(page.getByText('2 of 12 in Heath')).toBeVisible();
  await swipe(page, 20);
  await expect(page.getByText('2 of 12 in Heath')).toBeVisible();
  await page.keyboard.press('ArrowLeft');
  await expect(page.getByText('1 of 12 in Heath')).toBeVisible();
  const dot = 'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==';
  const file = { name: 'frame.png', mimeType: 'image/png', buffer: Buffer.from(dot, 'base64') };
  await page.locator('input[type="file"]').setInputFiles(file);
  await expect(page.getByText('The photo is kept.')).toBeVisible();
  await page.getByRole('button', { name: 'Eggs', exact: true }).click();
  await expect(page.getByRole('heading', { name: 'Eggs after 1 day' })).toBeVisible();
  await expectWholeAccessible(page);
  await page.getByRole('button', { name: 'The same: I saw her' }).click();
  await expect(page.getByText('2 of 12 in Heath')).toBeVisible();
  await expect(page.getByText('N-01: Eggs, queen seen')).toBeVisible();
});
